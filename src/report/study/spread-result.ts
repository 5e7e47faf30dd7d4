import { withReasons } from '../../summarize/figure.js';
import type { Spread } from '../../summarize/study/analysis/spread.js';
import type { SpreadResult } from '../results-study-cohort.js';

/** Median and quartiles as they go out: a null has its reason beside it. */
export const spreadResult = ({ known, missing, ...figures }: Spread): SpreadResult => ({
  ...withReasons(figures),
  known,
  missing,
});
