import type { Interval } from '../recording/interval.js';
import type { Signal } from '../recording/signal.js';
import { doseAboveMmHgHours, doseBelowMmHgHours } from './dose.js';
import { type Figure, unless, type WithReasons, withReasons } from './figure.js';
import { timeWeightedMean } from './mean.js';
import { timeWeightedPercentile } from './percentile.js';
import { whyNoDose, whyNoRule } from './resolvable.js';
import type { Targets } from './targets.js';
import { type Band, hoursAbove, hoursBelow, hoursInBand, monitoredHours } from './time.js';
import { HIGHLIGHT_MINUTES, windowMeans } from './window-means.js';

/** A signal over a window, with the nominal interval of its coarsest channel in milliseconds. */
export interface Measured {
  readonly signal: Signal;
  readonly window: Interval;
  readonly intervalMs: number;
}

const NO_WINDOW = `no ${HIGHLIGHT_MINUTES}-min window is known for at least half`;

/** Why nothing at all can be said of the window; null where something can. */
function whyNothing(name: string, { signal, window, intervalMs }: Measured): string | null {
  if (monitoredHours(signal, window) === 0) return `no ${name} in this time`;
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

/** Burden and time in range of ICP over a window. */
export function icpFigures(measured: Measured, { icpThresholdMmHg, icpBandMmHg }: Targets): IcpFigures {
  const { signal, window } = measured;
  const none = whyNothing('ICP', measured);
  const [from, to] = icpBandMmHg;
  return withReasons({
    meanMmHg: unless(none, () => timeWeightedMean(signal, window)),
    medianMmHg: unless(none, () => timeWeightedPercentile(signal, window, 0.5)),
    highest5MinMmHg: extremeWindowMean(measured, Math.max, none),
    hoursBelowBand: unless(none, () => hoursBelow(signal, window, from)),
    hoursWithinBand: unless(none, () => hoursInBand(signal, window, { from, to, closed: true })),
    hoursAboveBand: unless(none, () => hoursAbove(signal, window, to)),
    hoursAboveThreshold: unless(none, () => hoursAbove(signal, window, icpThresholdMmHg)),
    doseMmHgHours: unless(none, () => doseAboveMmHgHours(signal, window, icpThresholdMmHg)),
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

/** Perfusion over a window. */
export function cppFigures(measured: Measured, { cppFloorMmHg, cppEdgesMmHg }: Targets): CppFigures {
  const { signal, window } = measured;
  const none = whyNothing('CPP', measured);
  const hoursOf = (compute: () => number): number | null => (none === null ? compute() : null);
  const last = cppEdgesMmHg[cppEdgesMmHg.length - 1];
  const bands = [
    ...bandsOf(cppEdgesMmHg).map((band) => ({
      fromMmHg: Number.isFinite(band.from) ? band.from : null,
      toMmHg: band.to,
      hours: hoursOf(() =>
        Number.isFinite(band.from) ? hoursInBand(signal, window, band) : hoursBelow(signal, window, band.to),
      ),
    })),
    { fromMmHg: last, toMmHg: null, hours: hoursOf(() => hoursAbove(signal, window, last)) },
  ];
  return {
    ...withReasons({
      meanMmHg: unless(none, () => timeWeightedMean(signal, window)),
      lowest5MinMmHg: extremeWindowMean(measured, Math.min, none),
      hoursBelowFloor: unless(none, () => hoursBelow(signal, window, cppFloorMmHg)),
      doseBelowFloorMmHgHours: unless(none, () => doseBelowMmHgHours(signal, window, cppFloorMmHg)),
    }),
    bands,
  };
}
