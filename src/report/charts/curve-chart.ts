import type { PerfusionResult } from '../results-perfusion.js';
import { layerOf, lineLayer } from './layers.js';
import { COLOURS } from './palette.js';
import type { Spec } from './spec.js';

type Curve = NonNullable<PerfusionResult['curve']>;
type Fit = NonNullable<Curve['fit']>;

const WIDTH = 560;
const HEIGHT = 190;
const BARS = 64;
const SPACING = 14;
const PADDING = { left: 62, right: 62, top: 24, below: 44 } as const;
/** Points of the drawn parabola a bin. */
const FINE = 10;
/** A label of the optimum reaches so far beside its line, pixels. */
const LABEL_PIXELS = 220;

/** The fitted index at a CPP, back from its transform. */
export const fittedIndex = ({ x0, curvature, slope, intercept }: Fit, mmHg: number): number => {
  const x = mmHg - x0;
  return Math.tanh(curvature * x * x + slope * x + intercept);
};

/** Where the fitted curve is under the limit inside its bins, mmHg; null where it is nowhere. */
export function rangeUnder({ bins, fit }: Curve, limit: number): { from: number; to: number } | null {
  const fitted = bins.filter(({ isFitted }) => isFitted);
  if (fit === null || fitted.length === 0 || fittedIndex(fit, fit.optimalMmHg) >= limit) return null;
  return {
    from: fit.lowerMmHg ?? fitted[0].fromMmHg,
    to: fit.upperMmHg ?? fitted[fitted.length - 1].toMmHg,
  };
}

/** Between a point and the edge, of the index. */
const MARGIN = 0.04;

/** Values of y that hold all points, in halves. */
const indexDomain = (values: readonly number[]): [number, number] => [
  Math.max(-1, Math.floor((Math.min(-0.25, ...values) - MARGIN) * 2) / 2),
  Math.min(1, Math.ceil((Math.max(0.25, ...values) + MARGIN) * 2) / 2),
];

/** Mean index by bins of CPP with the parabola through them, over the minutes that each bin holds. */
export function curveSpec(curve: Curve, limit: number): Spec {
  const { bins, fit } = curve;
  const fitted = bins.filter(({ isFitted }) => isFitted);
  const low = Math.floor(Math.min(...bins.map(({ fromMmHg }) => fromMmHg), 50) / 10) * 10;
  const high = Math.ceil(Math.max(...bins.map(({ toMmHg }) => toMmHg), 90) / 10) * 10;
  const [bottom, top] = indexDomain(bins.map(({ meanIndex }) => meanIndex));
  const x = (showsLabels: boolean): Spec => ({
    field: 'x',
    type: 'quantitative',
    scale: { domain: [low, high], nice: false, zero: false },
    title: showsLabels ? 'CPP (mmHg)' : null,
    axis: showsLabels ? { tickCount: 8 } : { labels: false, ticks: false, tickCount: 8 },
  });
  const pointsOf = (isFitted: boolean) =>
    bins
      .filter((bin) => bin.isFitted === isFitted)
      .map(({ fromMmHg, toMmHg, meanIndex }) => ({ x: (fromMmHg + toMmHg) / 2, y: meanIndex }));
  const range = rangeUnder(curve, limit);
  const across = { x: { value: 0 }, x2: { value: WIDTH } };
  const upright = { y: { value: 0 }, y2: { value: HEIGHT } };
  const line =
    fit === null || fitted.length === 0
      ? []
      : Array.from({ length: fitted.length * FINE + 1 }, (_, i) => {
          const from = fitted[0].fromMmHg;
          const mmHg = from + ((fitted[fitted.length - 1].toMmHg - from) * i) / (fitted.length * FINE);
          return { x: mmHg, y: fittedIndex(fit, mmHg), run: 1 };
        });
  const best =
    fit === null
      ? []
      : [{ x: fit.optimalMmHg, says: `investigational optimum ${fit.optimalMmHg.toFixed(0)} mmHg` }];
  const isNearEnd = fit !== null && ((high - fit.optimalMmHg) / (high - low)) * WIDTH < LABEL_PIXELS;
  const upper: Spec = {
    width: WIDTH,
    height: HEIGHT,
    encoding: {
      x: x(false),
      y: {
        field: 'y',
        type: 'quantitative',
        scale: { domain: [bottom, top], nice: false, zero: false },
        title: 'mean PRx',
        axis: { tickCount: 6, titleX: -40 },
      },
    },
    layer: [
      ...layerOf(range === null ? [] : [{ x: range.from, x2: range.to }], {
        mark: { type: 'rect', color: COLOURS.cpp, opacity: 0.16 },
        encoding: { x2: { field: 'x2' }, ...upright },
      }),
      ...layerOf([{ y: 0 }], { mark: { type: 'rule', color: COLOURS.removed }, encoding: across }),
      ...layerOf([{ y: limit }], {
        mark: { type: 'rule', color: COLOURS.ink, strokeDash: [4, 3] },
        encoding: across,
      }),
      ...layerOf([{ y: limit, x: high }], {
        mark: { type: 'text', align: 'left', dx: 4, fontSize: 11, color: COLOURS.ink },
        encoding: { text: { field: 'y', type: 'quantitative' } },
      }),
      ...lineLayer(line, COLOURS.cpp, 2),
      ...layerOf(best, { mark: { type: 'rule', color: COLOURS.ink }, encoding: upright }),
      ...layerOf(best, {
        mark: {
          type: 'text',
          align: isNearEnd ? 'right' : 'left',
          baseline: 'bottom',
          dy: -4,
          fontSize: 11,
          color: COLOURS.ink,
        },
        encoding: { y: { value: 0 }, text: { field: 'says', type: 'nominal' } },
      }),
      ...layerOf(pointsOf(false), {
        mark: { type: 'point', size: 40, filled: false, color: COLOURS.removed, opacity: 1 },
      }),
      ...layerOf(pointsOf(true), {
        mark: { type: 'point', size: 55, filled: true, color: COLOURS.ink, opacity: 1 },
      }),
    ],
  };
  const lower: Spec = {
    width: WIDTH,
    height: BARS,
    encoding: {
      x: x(true),
      y: {
        field: 'y',
        type: 'quantitative',
        scale: { zero: true, nice: true },
        title: 'minutes',
        axis: { tickCount: 3, titleX: -40 },
      },
    },
    layer: layerOf(
      bins.map(({ fromMmHg, toMmHg, minutes }) => ({
        x: fromMmHg + 0.25,
        x2: toMmHg - 0.25,
        y: minutes,
        y2: 0,
      })),
      {
        mark: { type: 'rect', color: COLOURS.cpp, opacity: 0.6 },
        encoding: { x2: { field: 'x2' }, y2: { field: 'y2' } },
      },
    ),
  };
  return {
    vconcat: [upper, lower],
    spacing: SPACING,
    bounds: 'flush',
    autosize: { type: 'none' },
    padding: {
      left: PADDING.left,
      right: PADDING.right,
      top: PADDING.top,
      bottom: HEIGHT + SPACING + BARS + PADDING.below,
    },
  };
}
