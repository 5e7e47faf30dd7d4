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

/**
 * How far the monitor's own CPP lies from ours, in words.
 *
 * @param levels with their times as local text
 * @param at writes such a time
 */
export function ownCppSentence(
  { limits, reason, levels: found }: OwnCpp,
  levels: readonly Level[],
  isLevelled: boolean,
  at: (iso: string) => string,
): string {
  const ours = isLevelled ? 'MAP at ear level minus ICP' : 'MAP minus ICP';
  if (limits === null) return `The monitor's own CPP cannot be compared with ${ours}: ${reason}.`;
  const why = isLevelled
    ? 'it may be levelled in another way, or not at all, or use another source'
    : 'it may be levelled or use another source';
  const figures = `mean difference ${signed(limits.mean, 1)} mmHg, limits of agreement ${signed(limits.lower, 1)} to ${signed(limits.upper, 1)} mmHg`;
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
