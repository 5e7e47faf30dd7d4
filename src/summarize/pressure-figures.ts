import type { Interval } from '../recording/interval.js';
import type { Signal } from '../recording/signal.js';
import { type Figure, unless, type WithReasons, withReasons } from './figure.js';
import { type Band, type PieceSums, risingLevels } from './piece-sums.js';
import { whyNoDose, whyNoRule } from './resolvable.js';
import type { Targets } from './targets.js';
import { HIGHLIGHT_MINUTES, windowMeans } from './window-means.js';
import { totalsOver, type WindowTotals } from './window-totals.js';

/** A signal over a window, with the nominal interval of its coarsest channel in milliseconds. */
export interface Measured {
  readonly signal: Signal;
  readonly window: Interval;
  readonly intervalMs: number;
  /** Where the caller has them already, of `icpTotals` or `cppTotals`. */
  readonly totals?: WindowTotals | undefined;
}

const NO_WINDOW = `no ${HIGHLIGHT_MINUTES}-min window is known for at least half`;

/** Why nothing at all can be said of the window; null where something can. */
function whyNothing(name: string, { hours }: PieceSums, { intervalMs }: Measured): string | null {
  if (hours === 0) return `no ${name} in this time`;
  return whyNoDose(intervalMs);
}

/** The highest or lowest mean over 5 min in the window. */
function extremeWindowMean(
  measured: Measured,
  pick: (...means: number[]) => number,
  none: string | null,
): Figure {
  return unless(none ?? whyNoRule(measured.intervalMs, HIGHLIGHT_MINUTES * 60), () => {
    const means = windowMeans(measured.signal, measured.window).map(({ mean }) => mean);
    return means.length === 0 ? { reason: NO_WINDOW } : means.reduce((a, b) => pick(a, b));
  });
}

export type IcpFigures = WithReasons<
  | 'meanMmHg'
  | 'medianMmHg'
  | 'highest5MinMmHg'
  | 'hoursBelowBand'
  | 'hoursWithinBand'
  | 'hoursAboveBand'
  | 'hoursAboveThreshold'
  | 'doseMmHgHours'
>;

/** What the figures of ICP rest on, over many windows in one pass. */
export const icpTotals = (signal: Signal, windows: readonly Interval[], targets: Targets): WindowTotals[] =>
  totalsOver(signal, windows, risingLevels(...targets.icpBandMmHg, targets.icpThresholdMmHg), true);

/** Burden and time in range of ICP over a window. */
export function icpFigures(measured: Measured, targets: Targets): IcpFigures {
  const { signal, window } = measured;
  const { icpThresholdMmHg, icpBandMmHg } = targets;
  const [from, to] = icpBandMmHg;
  const { sums, median } = measured.totals ?? icpTotals(signal, [window], targets)[0];
  const none = whyNothing('ICP', sums, measured);
  return withReasons({
    meanMmHg: unless(none, () => sums.mean),
    medianMmHg: unless(none, () => median ?? Number.NaN),
    highest5MinMmHg: extremeWindowMean(measured, Math.max, none),
    hoursBelowBand: unless(none, () => sums.hoursBelow(from)),
    hoursWithinBand: unless(none, () => sums.hoursIn({ from, to, closed: true })),
    hoursAboveBand: unless(none, () => sums.hoursAbove(to)),
    hoursAboveThreshold: unless(none, () => sums.hoursAbove(icpThresholdMmHg)),
    doseMmHgHours: unless(none, () => sums.doseAbove(icpThresholdMmHg)),
  });
}

/** Hours of CPP in one band; the outer bands have one end only. */
export interface CppBand {
  readonly fromMmHg: number | null;
  readonly toMmHg: number | null;
  readonly hours: number | null;
}

export type CppFigures = WithReasons<
  'meanMmHg' | 'lowest5MinMmHg' | 'hoursBelowFloor' | 'doseBelowFloorMmHgHours'
> & {
  readonly bands: CppBand[];
};

/** The bands that rising edges cut: closed below and open above except the last inner one. */
function bandsOf(edges: readonly number[]): Band[] {
  const inner = edges
    .slice(0, -1)
    .map((from, i) => ({ from, to: edges[i + 1], closed: i === edges.length - 2 }));
  return [{ from: Number.NEGATIVE_INFINITY, to: edges[0], closed: false }, ...inner];
}

/** What the figures of CPP rest on, over many windows in one pass. */
export const cppTotals = (signal: Signal, windows: readonly Interval[], targets: Targets): WindowTotals[] =>
  totalsOver(signal, windows, risingLevels(targets.cppFloorMmHg, ...targets.cppEdgesMmHg), false);

/** Perfusion over a window. */
export function cppFigures(measured: Measured, targets: Targets): CppFigures {
  const { cppFloorMmHg, cppEdgesMmHg } = targets;
  const { sums } = measured.totals ?? cppTotals(measured.signal, [measured.window], targets)[0];
  const none = whyNothing('CPP', sums, measured);
  const hoursOf = (compute: () => number): number | null => (none === null ? compute() : null);
  const last = cppEdgesMmHg[cppEdgesMmHg.length - 1];
  const bands = [
    ...bandsOf(cppEdgesMmHg).map((band) => ({
      fromMmHg: Number.isFinite(band.from) ? band.from : null,
      toMmHg: band.to,
      hours: hoursOf(() => sums.hoursIn(band)),
    })),
    { fromMmHg: last, toMmHg: null, hours: hoursOf(() => sums.hoursAbove(last)) },
  ];
  return {
    ...withReasons({
      meanMmHg: unless(none, () => sums.mean),
      lowest5MinMmHg: extremeWindowMean(measured, Math.min, none),
      hoursBelowFloor: unless(none, () => sums.hoursBelow(cppFloorMmHg)),
      doseBelowFloorMmHgHours: unless(none, () => sums.doseBelow(cppFloorMmHg)),
    }),
    bands,
  };
}
