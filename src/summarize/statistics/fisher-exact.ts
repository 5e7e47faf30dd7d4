import { insist } from './estimate.js';

/** Tables whose chances differ by less, relatively, count as equally likely; as R's `fisher.test`. */
const ALIKE = 1e-7;

/**
 * Fisher's exact test of a 2 x 2 table, two-sided: the share of all tables with the same margins that are as unlikely as
 * this one or more. As R's `fisher.test`. Source: Fisher, J R Stat Soc 1935;98:39-54; two-sided by small chances: Agresti,
 * Categorical Data Analysis, 3rd ed. 2013, section 3.5.
 *
 * @param table counts: [[a, b], [c, d]]
 * @returns p; 1 where a margin is empty, since there is one table only
 * @throws RangeError where a count is none
 */
export function fisherExact([[a, b], [c, d]]: readonly [
  readonly [number, number],
  readonly [number, number],
]): number {
  insist(
    [a, b, c, d].every((count) => Number.isInteger(count) && count >= 0),
    'whole counts that are not negative',
  );
  const [row, column, other] = [a + b, a + c, c + d];
  const [least, most] = [Math.max(0, column - other), Math.min(row, column)];
  // Logarithms of chances, each from the one before, up to a constant.
  const logs = [0];
  for (let k = least; k < most; k++) {
    const ratio = ((row - k) * (column - k)) / ((k + 1) * (other - column + k + 1));
    logs.push(logs[logs.length - 1] + Math.log(ratio));
  }
  const highest = Math.max(...logs);
  const chances = logs.map((log) => Math.exp(log - highest));
  const own = chances[a - least] * (1 + ALIKE);
  const sum = (list: readonly number[]): number => list.reduce((total, x) => total + x, 0);
  return Math.min(1, sum(chances.filter((x) => x <= own)) / sum(chances));
}
