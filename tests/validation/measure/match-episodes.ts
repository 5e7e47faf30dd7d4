import type { Interval } from '../../../src/recording/interval.js';

const shared = (a: Interval, b: Interval): number =>
  Math.max(0, Math.min(a.end, b.end) - Math.max(a.start, b.start));

const length = ({ start, end }: Interval): number => end - start;

/** True episodes that no found one overlaps for at least half of the shorter of the two. */
export const missedOf = <T extends Interval>(real: readonly T[], found: readonly Interval[]): T[] =>
  real.filter(
    (one) => !found.some((other) => 2 * shared(one, other) >= Math.min(length(one), length(other))),
  );

/** Found episodes that overlap no true one at all. */
export const inventedOf = <T extends Interval>(found: readonly T[], real: readonly Interval[]): T[] =>
  found.filter((one) => !real.some((other) => shared(one, other) > 0));
