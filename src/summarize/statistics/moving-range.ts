/** The mean range of two values of a normal distribution, in standard deviations: d2 of control charts. */
const D2 = 1.128;

/**
 * Standard deviation from one value to the next: the mean moving range of two, divided by 1.128. A slow drift does not
 * widen it. Source: NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.2.
 *
 * @param values two or more, in order of time
 */
export function movingRangeSigma(values: readonly number[]): number {
  let sum = 0;
  for (let i = 1; i < values.length; i++) sum += Math.abs(values[i] - values[i - 1]);
  return sum / (values.length - 1) / D2;
}
