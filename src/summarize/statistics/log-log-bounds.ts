/** Two bounds. */
export interface Bounds {
  readonly lower: number;
  readonly upper: number;
}

/**
 * Interval of a share on the scale log(-log p), so that it stays between 0 and 1: p^exp(-+ z se / (p log p)). Source:
 * Kalbfleisch & Prentice, The Statistical Analysis of Failure Time Data, 1980; as R's survfit with
 * `conf.type = "log-log"`.
 *
 * @param p the share; at 0 and 1 the scale has no value
 * @param standardError of p
 * @param z standard deviations to both sides
 * @returns null where p is 0 or 1
 */
export function logLogBounds(p: number, standardError: number, z: number): Bounds | null {
  if (!(p > 0 && p < 1)) return null;
  const reach = Math.abs((z * standardError) / (p * Math.log(p)));
  return { lower: p ** Math.exp(reach), upper: p ** Math.exp(-reach) };
}
