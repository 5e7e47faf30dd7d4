import type { EstimateResult } from '../results-estimate.js';
import { NONE, share } from '../words.js';

/** `0.42`, `3.1`, `28`: two digits that count; a rate that is there is never shown as none. */
export function rate(value: number | null): string {
  if (value === null) return NONE;
  if (value === 0) return '0';
  if (value < 0.005) return '< 0.01';
  return value.toFixed(value >= 9.95 ? 0 : value >= 0.995 ? 1 : 2);
}

const boundsOf = ({ lower, upper }: EstimateResult, words: (value: number) => string): string =>
  lower === null || upper === null ? NONE : `${words(lower)} to ${words(upper)}`;

/** `11 % to 27 %`, or a dash. */
export const shareBounds = (estimate: EstimateResult): string => boundsOf(estimate, share);

/** `2.1 to 4.4`, or a dash. */
export const rateBounds = (estimate: EstimateResult): string => boundsOf(estimate, rate);

const withBounds = (text: string, bounds: string): string =>
  bounds === NONE ? text : `${text} (95 % interval ${bounds})`;

/** `18 % (95 % interval 11 % to 27 %)`; the share alone where it has no interval. */
export const shareText = (estimate: EstimateResult): string =>
  estimate.value === null ? NONE : withBounds(share(estimate.value), shareBounds(estimate));

/** `3.1 (95 % interval 2.1 to 4.4)`. */
export const rateText = (estimate: EstimateResult): string =>
  estimate.value === null ? NONE : withBounds(rate(estimate.value), rateBounds(estimate));
