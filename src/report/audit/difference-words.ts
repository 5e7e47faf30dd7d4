import type { EstimateResult } from '../results-estimate.js';
import { NONE } from '../words.js';
import { MASKED } from './mask.js';

/** Percentage points with their sign: `+12`, `−3`, `0`. */
export function points(share: number | null): string {
  if (share === null) return NONE;
  const whole = Math.round(share * 100);
  return whole > 0 ? `+${whole}` : whole < 0 ? `−${-whole}` : '0';
}

/** A difference of shares before and after a change, in words; no verdict. */
export function differenceWords({ value, lower, upper, reason }: EstimateResult, minutes: number): string {
  const what = `share within ${minutes} min after the change minus that before`;
  if (value === null && reason === MASKED) return `The ${what} is not shown, since it rests on few.`;
  if (value === null) return `The ${what} cannot be told: ${reason ?? 'no figure'}.`;
  const is = `The ${what} is ${points(value)} percentage points`;
  if (lower === null || upper === null) return `${is}; there is no interval: ${reason ?? 'no figure'}.`;
  const between = `${is} (95 % interval ${points(lower)} to ${points(upper)})`;
  return lower <= 0 && upper >= 0
    ? `${between}; the interval holds 0: the data cannot tell it from no difference.`
    : `${between}; the interval does not hold 0: a difference larger than patients differ by chance. What else changed meanwhile is not known here.`;
}
