import type { Figure } from '../../figure.js';
import { quantileSorted } from '../../statistics/quantile-sorted.js';

/** Where values lie: median and quartiles (R's type 7), with how many are known. */
export interface Spread {
  readonly known: number;
  readonly missing: number;
  readonly median: Figure;
  readonly lowerQuartile: Figure;
  readonly upperQuartile: Figure;
}

const NOBODY = { reason: 'no value is known' };

/** @param values finite, or null where not known */
export function spreadOf(values: readonly (number | null)[]): Spread {
  const sorted = Float64Array.from(values.filter((value) => value !== null)).sort();
  const at = (p: number): Figure => (sorted.length === 0 ? NOBODY : quantileSorted(sorted, p));
  return {
    known: sorted.length,
    missing: values.length - sorted.length,
    median: at(0.5),
    lowerQuartile: at(0.25),
    upperQuartile: at(0.75),
  };
}
