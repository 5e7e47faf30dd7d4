import type { WhatIfCell } from './what-if-cells.js';

/** What settings are compared by: fewer alarms, more episodes caught, a shorter median time to the notice. */
type Compared = Pick<WhatIfCell, 'alarms' | 'episodesCaught' | 'medianNoticeMinutes'>;

/** In whole milliseconds, so that the last bits of crossings make no setting better than another. */
const minutesOf = ({ medianNoticeMinutes }: Compared): number =>
  typeof medianNoticeMinutes === 'number'
    ? Math.round(medianNoticeMinutes * 60_000) / 60_000
    : Number.POSITIVE_INFINITY;

/** True where `a` is as good as `b` in all three, and better in one. */
export const dominates = (a: Compared, b: Compared): boolean =>
  a.alarms <= b.alarms &&
  a.episodesCaught >= b.episodesCaught &&
  minutesOf(a) <= minutesOf(b) &&
  (a.alarms < b.alarms || a.episodesCaught > b.episodesCaught || minutesOf(a) < minutesOf(b));

/**
 * The settings to choose among, by their place: no other has as few alarms, as many episodes caught and as short a median
 * time to the notice, and is better in one. A setting that catches no episode is none of them, or silence would be the
 * choice with the fewest alarms. Own convention.
 */
export const choicesAmong = (cells: readonly Compared[]): number[] =>
  cells.flatMap((cell, place) =>
    cell.episodesCaught > 0 && !cells.some((other) => dominates(other, cell)) ? [place] : [],
  );

/** Settings against the present one, by their place among the cells; null where none is such a one. */
export interface AgainstPresent {
  /** Of those that catch as many episodes or more. */
  readonly fewestAlarms: number | null;
  /** Of those with no more alarms. */
  readonly mostCaught: number | null;
  /** Of those with no more alarms and no fewer episodes caught. */
  readonly shortestNotice: number | null;
}

type Order = (a: Compared, b: Compared) => number;
const byAlarms: Order = (a, b) => a.alarms - b.alarms;
const byCaught: Order = (a, b) => b.episodesCaught - a.episodesCaught;
// Two that catch none are alike; the difference of two infinities is no number.
const byMinutes: Order = (a, b) => (minutesOf(a) === minutesOf(b) ? 0 : minutesOf(a) - minutesOf(b));

/**
 * The best choice of three kinds. Where two are equal in what is asked, the other two of the three decide, and then the
 * present setting before others, and the lower limit and shorter delay.
 *
 * @param choices places among the cells, rising
 */
export function againstPresent(
  cells: readonly Compared[],
  choices: readonly number[],
  present: number,
): AgainstPresent {
  const now = cells[present];
  const best = (isOne: (cell: Compared) => boolean, ...orders: readonly Order[]): number | null => {
    const found = choices.filter((place) => isOne(cells[place]));
    const order = (a: number, b: number): number =>
      orders.map((by) => by(cells[a], cells[b])).find((sign) => sign !== 0) ??
      Number(b === present) - Number(a === present);
    return [...found].sort((a, b) => order(a, b) || a - b)[0] ?? null;
  };
  return {
    fewestAlarms: best((one) => one.episodesCaught >= now.episodesCaught, byAlarms, byCaught, byMinutes),
    mostCaught: best((one) => one.alarms <= now.alarms, byCaught, byAlarms, byMinutes),
    shortestNotice: best(
      (one) => one.alarms <= now.alarms && one.episodesCaught >= now.episodesCaught,
      byMinutes,
      byAlarms,
      byCaught,
    ),
  };
}
