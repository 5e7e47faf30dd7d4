import { insist } from './estimate.js';

/** A run of more points than this is a signal: round(log2 n) + 3. */
export const mostInRun = (useful: number): number => Math.round(Math.log2(useful)) + 3;

/**
 * Fewer crossings than this are a signal: the 5 % quantile of the binomial distribution of n - 1 chances of one half,
 * R's `qbinom(0.05, n - 1, 0.5)`, by adding up its terms.
 *
 * @param useful points that are not on the centre line, 1 or more
 */
export function fewestCrossings(useful: number): number {
  insist(Number.isInteger(useful) && useful >= 1, `one point or more, and got ${useful}`);
  const chances = useful - 1;
  // As logarithms, since one half to the power of a thousand is too small for a number.
  let logTerm = -chances * Math.LN2;
  let share = Math.exp(logTerm);
  let crossings = 0;
  while (share < 0.05) {
    crossings++;
    logTerm += Math.log((chances - crossings + 1) / crossings);
    share += Math.exp(logTerm);
  }
  return crossings;
}
