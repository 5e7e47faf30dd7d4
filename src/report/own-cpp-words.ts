import { type Interval, intersect, totalMs } from '../recording/interval.js';
import type { LevelStep } from '../summarize/levelling.js';
import { LASTING_MMHG, type OwnCpp } from '../summarize/own-cpp.js';
import { pressure, signed } from './words.js';

interface Level {
  readonly start: string;
  readonly end: string;
  readonly differenceMmHg: number;
}

/** `about 12 mmHg lower`, `the same`. */
function sideOf(mmHg: number): string {
  if (Math.abs(mmHg) < LASTING_MMHG) return 'about the same';
  return `about ${pressure(Math.abs(mmHg), 0)} mmHg ${mmHg < 0 ? 'lower' : 'higher'}`;
}

/** The difference lies this near to what MAP was taken down by where it is that, mmHg. Own convention. */
const NEAR_MMHG = 1;

/** Mean of what MAP was taken down by over a stretch, mmHg; NaN where it is known at no time of it. */
function meanCorrection(stretch: Interval, steps: readonly LevelStep[]): number {
  const parts = steps.flatMap((step) =>
    step.correctionMmHg === null
      ? []
      : [{ mmHg: step.correctionMmHg, ms: totalMs(intersect([stretch], [step])) }],
  );
  const ms = parts.reduce((sum, part) => sum + part.ms, 0);
  return parts.reduce((sum, part) => sum + part.mmHg * part.ms, 0) / ms;
}

/** True where the monitor's own CPP is higher than ours by just what MAP was taken down by, in each of its levels. */
export const isWithoutLevel = ({ levels }: OwnCpp, steps: readonly LevelStep[]): boolean =>
  levels.length > 0 &&
  levels.every((level) => {
    const mmHg = meanCorrection(level, steps);
    return mmHg >= LASTING_MMHG && Math.abs(level.differenceMmHg - mmHg) <= NEAR_MMHG;
  });

/** `11`, `8 to 11`: differences of levels, whole mmHg. */
function sizes(levels: OwnCpp['levels']): string {
  const all = levels.map(({ differenceMmHg }) => differenceMmHg);
  const [low, high] = [Math.min(...all), Math.max(...all)].map((mmHg) => pressure(mmHg, 0));
  return low === high ? low : `${low} to ${high}`;
}

/**
 * How far the monitor's own CPP lies from ours, in words.
 *
 * @param levels with their times as local text
 * @param steps what MAP was taken down by; none where CPP is not levelled
 * @param at writes such a time
 */
export function ownCppSentence(
  own: OwnCpp,
  levels: readonly Level[],
  steps: readonly LevelStep[],
  at: (iso: string) => string,
): string {
  const { limits, reason, levels: found } = own;
  const isLevelled = steps.length > 0;
  const ours = isLevelled ? 'MAP at ear level minus ICP' : 'MAP minus ICP';
  if (limits === null) return `The monitor's own CPP cannot be compared with ${ours}: ${reason}.`;
  const why = isLevelled
    ? 'it may be levelled in another way, or not at all, or use another source'
    : 'it may be levelled or use another source';
  const figures = `mean difference ${signed(limits.mean, 1)} mmHg, limits of agreement ${signed(limits.lower, 1)} to ${signed(limits.upper, 1)} mmHg`;
  if (isWithoutLevel(own, steps))
    return `The monitor's own CPP is higher than ours by just what MAP was taken down by (${sizes(found)} mmHg): the monitor does not level (${figures}).`;
  const [first, ...later] = levels;
  if (later.length > 0) {
    const went = later.map(({ start, differenceMmHg }) => `${sideOf(differenceMmHg)} from ${at(start)} on`);
    return `The monitor's own CPP does not keep its distance from ${ours}: it is ${sideOf(first.differenceMmHg)} at first, ${went.join(', then ')} (${figures}). Its level, its source or a zero may have been changed.`;
  }
  if (Math.abs(first.differenceMmHg) < LASTING_MMHG) {
    return `The monitor's own CPP agrees with ${ours} over the period: ${figures}.`;
  }
  const where = found[0].isSteady ? 'throughout' : 'in the middle, but not steadily';
  const side = first.differenceMmHg < 0 ? 'lower' : 'higher';
  return `The monitor's own CPP is ${side} than ${ours} by about ${pressure(Math.abs(first.differenceMmHg), 0)} mmHg ${where}: ${why} (${figures}).`;
}
