import { PRX_LIMIT } from '../../summarize/perfusion/cpp-bins.js';
import type { Targets } from '../../summarize/targets.js';
import type { Absent } from '../morning/rank.js';
import { index } from '../reactivity-words.js';
import type { UnitRecording } from '../results-schema.js';
import { byPatientId, counted, duration, listed, share } from '../words.js';
import { isDoubtful } from './cannot-say.js';
import { LEAST_JOINT_HOURS } from './rank.js';

const most = (
  recordings: readonly UnitRecording[],
  value: (one: UnitRecording) => number | null | undefined,
): UnitRecording =>
  recordings.reduce((a, b) =>
    (value(b) ?? Number.NEGATIVE_INFINITY) > (value(a) ?? Number.NEGATIVE_INFINITY) ? b : a,
  );

const bothHours = ({ perfusion }: UnitRecording): number => perfusion.joint.bothHours ?? 0;
/** Null also where it cannot be judged. */
const meanPrx = ({ perfusion: { prx, prxDoubt } }: UnitRecording): number | null =>
  prxDoubt === null ? prx.mean : null;

/** Who had ICP high and CPP low at once for longest, and whose CPP was low for longest. */
function perfusionWords(
  judged: readonly UnitRecording[],
  { icpThresholdMmHg, cppFloorMmHg }: Targets,
): string[] {
  const worst = most(judged, bothHours);
  const lowest = most(judged, ({ cpp }) => cpp.hoursBelowFloor);
  const hoursLow = lowest.cpp.hoursBelowFloor ?? 0;
  if (hoursLow === 0) return [`none had CPP below ${cppFloorMmHg} mmHg.`];
  const longest = bothHours(worst);
  const hasJoint = longest >= LEAST_JOINT_HOURS;
  const both = `ICP above ${icpThresholdMmHg} and CPP below ${cppFloorMmHg} mmHg at once`;
  const whose = hasJoint && lowest === worst ? 'the same patient' : `patient ${lowest.id}`;
  return [
    hasJoint
      ? `patient ${worst.id} had ${both} for longest: ${duration(bothHours(worst))}.`
      : `none had ${both}${longest > 0 ? ' for 5 min or more' : ''}.`,
    `CPP was low for longest in ${whose}: ${duration(hoursLow)}.`,
  ];
}

/** In how many PRx could be computed, and in whom it was highest. */
function prxWords(judged: readonly UnitRecording[]): string {
  const computed = judged.filter((one) => meanPrx(one) !== null);
  const doubtful = judged.filter(({ perfusion }) => perfusion.prxDoubt !== null).map(({ id }) => id);
  const apart = doubtful.length === 0 ? '' : ` It cannot be judged in ${listed(doubtful)}.`;
  if (computed.length === 0)
    return doubtful.length === 0 ? 'PRx could be computed in none of them.' : `PRx:${apart}`;
  const highest = most(computed, meanPrx);
  return `PRx could be computed in ${computed.length} of ${judged.length}; its mean was highest in patient ${highest.id}: ${prxValue(highest)}.${apart}`;
}

const prxValue = ({ perfusion: { prx } }: UnitRecording): string =>
  `${index(prx.mean)}, and above ${PRX_LIMIT} for ${share(prx.shareAboveLimit ?? 0)} of the time that it could be computed (${share(prx.computableShare)} of the whole)`;

/** Of one patient there is nobody to compare with. */
function onlySentence(one: UnitRecording, { icpThresholdMmHg, cppFloorMmHg }: Targets): string {
  const { id, cpp } = one;
  const low =
    (cpp.hoursBelowFloor ?? 0) === 0
      ? `CPP of patient ${id} was never below ${cppFloorMmHg} mmHg.`
      : `CPP of patient ${id} was below ${cppFloorMmHg} mmHg for ${duration(cpp.hoursBelowFloor)}, with ICP above ${icpThresholdMmHg} mmHg at once for ${duration(bothHours(one))}.`;
  const { prxDoubt } = one.perfusion;
  if (prxDoubt !== null) return `${low} ${prxDoubt}`;
  return meanPrx(one) === null ? low : `${low} PRx averaged ${prxValue(one)}.`;
}

/** The unit's period in plain words: of whom nobody can say, whose perfusion was worst, where autoregulation was. */
export function perfusionUnitSentence(
  recordings: readonly UnitRecording[],
  absent: readonly Absent[],
  targets: Targets,
): string {
  const doubtful = [...recordings.filter(isDoubtful), ...absent].map(({ id }) => id).sort(byPatientId);
  const judged = recordings.filter((one) => !isDoubtful(one));
  const all = recordings.length + absent.length;
  const doubt =
    doubtful.length === 0
      ? []
      : all === 1
        ? [`The data cannot say how patient ${doubtful[0]} was perfused.`]
        : [
            `Of ${counted(all, 'patient')}, the data cannot say how ${listed(doubtful)} ${doubtful.length === 1 ? 'was' : 'were'} perfused.`,
          ];
  if (judged.length === 0) return doubt.join(' ');
  if (judged.length === 1) return [...doubt, onlySentence(judged[0], targets)].join(' ');
  const whom = doubtful.length > 0 ? 'Of the others, ' : `Of ${counted(judged.length, 'patient')}, `;
  return [...doubt, `${whom}${perfusionWords(judged, targets).join(' ')}`, prxWords(judged)].join(' ');
}
