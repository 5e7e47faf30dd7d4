import type { Interval } from '../recording/interval.js';
import { piecesWithin } from '../recording/pieces.js';
import type { Signal } from '../recording/signal.js';
import { sharedPlaces, timeWeightedPercentile, ValueTimes } from './percentile.js';
import { PieceSums } from './piece-sums.js';

/** What adds up over the pieces of a signal in a window. */
export interface WindowTotals {
  readonly sums: PieceSums;
  /** Time-weighted median; null where it was not asked for. */
  readonly median: number | null;
}

/** The stretches between neighbouring edges of any window. */
function stretchesBetween(windows: readonly Interval[]): Interval[] {
  const edges = [...new Set(windows.flatMap(({ start, end }) => [start, end]))].sort((a, b) => a - b);
  return edges.slice(1).map((end, i) => ({ start: edges[i], end }));
}

/**
 * Totals of a signal over many windows, which may overlap: a report has a period, its nights and its hours. The signal is
 * gone through once, between one edge of a window and the next.
 *
 * @param levels rising: those that hours and doses will be asked for
 */
export function totalsOver(
  signal: Signal,
  windows: readonly Interval[],
  levels: readonly number[],
  hasMedian: boolean,
): WindowTotals[] {
  const places = hasMedian ? sharedPlaces(signal) : null;
  const totals = windows.map((window) => ({
    ...window,
    sums: new PieceSums(levels),
    times: null as ValueTimes | null,
    median: Number.NaN,
  }));
  for (const stretch of stretchesBetween(windows)) {
    const around = totals.filter(({ start, end }) => start <= stretch.start && end >= stretch.end);
    if (around.length === 0) continue;
    const { first, last, cut } = piecesWithin(signal, stretch);
    const sums = new PieceSums(levels);
    const times = places && new ValueTimes(places);
    sums.addPieces(signal, first, last);
    times?.addPieces(signal, first, last);
    for (const piece of cut) {
      sums.addPiece(piece.x0, piece.x1, piece.t1 - piece.t0);
      times?.addCut(piece);
    }
    for (const one of around) {
      one.sums.add(sums);
      if (!times) continue;
      const isWhole = one.start === stretch.start && one.end === stretch.end;
      if (!isWhole) {
        one.times ??= new ValueTimes(times.places);
        one.times.add(times);
      }
      if (one.end > stretch.end) continue;
      // Nothing more comes: what a month of hours would hold is let go.
      one.median = (one.times ?? times).percentile(0.5);
      one.times = null;
    }
  }
  const isLeft = hasMedian && places === null;
  return totals.map(({ start, end, sums, median }) => ({
    sums,
    median: isLeft ? timeWeightedPercentile(signal, { start, end }, 0.5) : hasMedian ? median : null,
  }));
}
