import type { RecordingResult, UnitRecording } from '../results-schema.js';
import { dose, duration, timesOf } from '../words.js';

type Target = RecordingResult['lowCpp']['targets'][number];

/** The part of a recording that tells targets. */
type Targeted = Pick<UnitRecording, 'lowCpp' | 'period' | 'perfusion'>;

/** True where what counts as low CPP for this patient is at some time another value than the floor of all. */
export const hasOwnTarget = ({ lowCpp, perfusion }: Targeted): boolean =>
  lowCpp.targets.some(({ belowMmHg }) => belowMmHg !== perfusion.joint.cppBelowMmHg);

/** True where a table of targets says it, and not the threshold of episodes in the pipeline file. */
export const isFromTable = ({ file }: Target): boolean => file !== null;

/** `60, from 07:00 on 65`: the targets one after the other, mmHg. */
export function targetSteps({ lowCpp: { targets }, period }: Targeted): string {
  const at = timesOf(period);
  return targets
    .map(({ start, belowMmHg }, i) => (i === 0 ? `${belowMmHg}` : `from ${at(start)} on ${belowMmHg}`))
    .join(', ');
}

/** `its target (60, from 07:00 on 65)`; where no table says one, `the threshold of its episodes (65)`. */
export const targetName = (result: Targeted): string =>
  `${result.lowCpp.targets.some(isFromTable) ? 'its target' : 'the threshold of its episodes'} (${targetSteps(result)})`;

/** `CPP was below its target (60, from 07:00 on 65) for 12 h 18 min, dose 95.9 mmHg·h.`; empty where it is the floor. */
export const belowTargetWords = (result: Targeted): string =>
  !hasOwnTarget(result) || result.lowCpp.hours === null
    ? ''
    : `CPP was below ${targetName(result)} for ${duration(result.lowCpp.hours)}, dose ${dose(result.lowCpp.doseMmHgHours)} mmHg·h.`;

/** Which value is which, where the floor of figures and the threshold of episodes are not the same; else empty. */
export function whichIsWhich(result: Targeted): string {
  const { lowCpp, perfusion } = result;
  const floor = perfusion.joint.cppBelowMmHg;
  const set = lowCpp.targets.find((target) => !isFromTable(target));
  if (!hasOwnTarget(result)) return '';
  const table = lowCpp.targets.some(isFromTable)
    ? ` The target is this patient's own, from the table of targets.`
    : '';
  const threshold =
    set === undefined || set.belowMmHg === floor
      ? ''
      : ` ${set.belowMmHg} mmHg is the threshold of episodes (segment.cpp.thresholdMmHg).`;
  return `${floor} mmHg is the floor of the unit (summarize.cppFloorMmHg), for hours, dose and both at once.${threshold}${table}`;
}
