import type { Targets } from '../../summarize/targets.js';
import type { UnitRecording } from '../results-schema.js';
import { byPatientId, counted, dose, duration, listed, pressure } from '../words.js';
import { printsSame } from './decision-words.js';
import type { Absent } from './rank.js';

/** CPP below its floor for so long is named for each patient. */
const LONG_HOURS = 1;
/** A unit's patients; of a cohort the sentence would run over pages, and the table names all. */
const MOST_NAMED = 30;

const named = (ids: readonly string[]): string =>
  listed(
    ids.length <= MOST_NAMED + 1
      ? ids
      : [...ids.slice(0, MOST_NAMED), `${ids.length - MOST_NAMED} others (see the table)`],
  );

/** `Without what a person decided, patient 7 would have been above 22 mmHg for 3 h, dose 219.0 mmHg·h.`; empty where no decision makes ICP look better. */
function withoutDecisions(recordings: readonly UnitRecording[], thresholdMmHg: number): string[] {
  const words = recordings.flatMap(({ id, icp, icpRaw, cleaning }) => {
    const byRules = cleaning.withoutDecisions;
    if (byRules === null || icpRaw.hoursAboveThreshold === null) return [];
    if (byRules.icpDoseMmHgHours <= (icp.doseMmHgHours ?? 0)) return [];
    const other = { hours: byRules.icpHoursAboveThreshold, dose: byRules.icpDoseMmHgHours };
    if (printsSame(other, { hours: icp.hoursAboveThreshold, dose: icp.doseMmHgHours })) return [];
    return [`patient ${id} for ${duration(other.hours)}, dose ${dose(other.dose)} mmHg·h`];
  });
  if (words.length === 0) return [];
  return [
    `Without what a person decided, ICP would have been above ${thresholdMmHg} mmHg in ${words.join('; in ')}.`,
  ];
}

/** Of one patient there is nobody to compare with. */
function onlySentence(
  { id, icp, cpp, episodes, episodesReason }: UnitRecording,
  thresholdMmHg: number,
  floorMmHg: number,
): string {
  const never = episodesReason === null && episodes.length === 0 ? ', never long enough for an episode' : '';
  const ofIcp = isNone(icp.doseMmHgHours)
    ? `ICP of patient ${id} was never above ${thresholdMmHg} mmHg.`
    : `ICP of patient ${id} was above ${thresholdMmHg} mmHg for ${duration(icp.hoursAboveThreshold)}, dose ${dose(icp.doseMmHgHours)} mmHg·h${never}.`;
  return isNone(cpp.hoursBelowFloor)
    ? ofIcp
    : `${ofIcp} CPP was below ${floorMmHg} mmHg for ${duration(cpp.hoursBelowFloor)}.`;
}

const isNone = (value: number | null): boolean => (value ?? 0) === 0;

/** The unit's period in plain words: of whom nobody can say, whom to look at first, who was perfused worst. */
export function unitSentence(
  recordings: readonly UnitRecording[],
  absent: readonly Absent[],
  { icpThresholdMmHg, cppFloorMmHg }: Targets,
): string {
  const doubtful = [...recordings.filter(({ cannotSay }) => cannotSay.length > 0), ...absent]
    .map(({ id }) => id)
    .sort(byPatientId);
  const judged = recordings.filter(({ cannotSay }) => cannotSay.length === 0);
  const parts: string[] = [];
  if (doubtful.length > 0) {
    const isOnly = recordings.length + absent.length === 1;
    parts.push(
      isOnly
        ? `The data cannot say how patient ${doubtful[0]} was: look there first.`
        : `Of ${counted(recordings.length + absent.length, 'patient')}, the data cannot say how ${named(doubtful)} ${doubtful.length === 1 ? 'was' : 'were'}: look there first.`,
    );
  }
  const undecided = withoutDecisions(recordings, icpThresholdMmHg);
  if (judged.length === 0) return [...parts, ...undecided].join(' ');
  if (recordings.length + absent.length === 1)
    return [onlySentence(judged[0], icpThresholdMmHg, cppFloorMmHg), ...undecided].join(' ');
  const others = doubtful.length > 0 ? 'Of the others, ' : `Of ${counted(judged.length, 'patient')}, `;
  const worst = judged.reduce((a, b) => ((b.icp.doseMmHgHours ?? 0) > (a.icp.doseMmHgHours ?? 0) ? b : a));
  const above = `above ${icpThresholdMmHg} mmHg for ${duration(worst.icp.hoursAboveThreshold)}, dose ${dose(worst.icp.doseMmHgHours)} mmHg·h`;
  if ((worst.icp.doseMmHgHours ?? 0) === 0)
    parts.push(`${others}none had ICP above ${icpThresholdMmHg} mmHg.`);
  else if (judged.some(({ episodes }) => episodes.length > 0)) {
    parts.push(`${others}patient ${worst.id} had the largest ICP burden: ${above}.`);
  } else parts.push(`${others}none had an episode; the most was in patient ${worst.id}: ${above}.`);
  const lowest = judged.reduce((a, b) =>
    (b.cpp.hoursBelowFloor ?? 0) > (a.cpp.hoursBelowFloor ?? 0) ? b : a,
  );
  if ((lowest.cpp.hoursBelowFloor ?? 0) > 0) {
    const also = judged.filter((one) => one !== lowest && (one.cpp.hoursBelowFloor ?? 0) >= LONG_HOURS);
    const others =
      also.length === 0 ? '' : `; for an hour or more also in ${named(also.map(({ id }) => id))}`;
    parts.push(
      `CPP was below ${cppFloorMmHg} mmHg for longest in ${lowest === worst ? 'the same patient' : `patient ${lowest.id}`}: ${duration(lowest.cpp.hoursBelowFloor)}${others}.`,
    );
  }
  parts.push(...highestElsewhere(judged, worst));
  return [...parts, ...undecided].join(' ');
}

/** `The highest 5-min mean ICP was in patient 102: 56.3 mmHg.`; empty where the largest burden is of the same patient. */
function highestElsewhere(judged: readonly UnitRecording[], worst: UnitRecording): string[] {
  const highest = judged.reduce((a, b) =>
    (b.icp.highest5MinMmHg ?? 0) > (a.icp.highest5MinMmHg ?? 0) ? b : a,
  );
  const { highest5MinMmHg: mmHg } = highest.icp;
  return highest === worst || mmHg === null || (highest.icp.doseMmHgHours ?? 0) === 0
    ? []
    : [
        `The highest 5-min mean ICP was in patient ${highest.id}: ${pressure(mmHg, highest.decimals.icp)} mmHg.`,
      ];
}
