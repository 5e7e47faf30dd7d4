import type { PerfusionResult } from '../results-perfusion.js';
import { layerOf, lineLayer } from './layers.js';
import { COLOURS } from './palette.js';
import type { Spec } from './spec.js';

type Curve = NonNullable<PerfusionResult['curve']>;
type Fit = NonNullable<Curve['fit']>;

const WIDTH = 560;
const HEIGHT = 190;
const PADDING = { left: 62, right: 62, top: 24, below: 44 } as const;
/** Points of the drawn parabola a bin. */
const FINE = 10;
/** A label of the optimum reaches so far beside its line, pixels. */
const LABEL_PIXELS = 260;
/** Area of the point of the bin that holds the most minutes, and the least of any, square pixels. */
const LARGEST_POINT = 420;
const SMALLEST_POINT = 12;
/** The range under the limit: a neutral grey, since the green of CPP's bands says another thing. */
export const UNDER_LIMIT = '#ececec';

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

/**
 * Mean index by bins of CPP, each point as large as the minutes that it holds, with the parabola through them. An optimum is
 * named only where the parabola is under the limit somewhere.
 *
 * @param namesOptimum false where curves were found no more often than chance finds them
 */
export function curveSpec(curve: Curve, limit: number, namesOptimum = true): Spec {
  const { bins, fit } = curve;
  const fitted = bins.filter(({ isFitted }) => isFitted);
  const low = Math.floor(Math.min(...bins.map(({ fromMmHg }) => fromMmHg), 50) / 10) * 10;
  const high = Math.ceil(Math.max(...bins.map(({ toMmHg }) => toMmHg), 90) / 10) * 10;
  const [bottom, top] = indexDomain(bins.map(({ meanIndex }) => meanIndex));
  const most = Math.max(...bins.map(({ minutes }) => minutes));
  const pointsOf = (isFitted: boolean) =>
    bins
      .filter((bin) => bin.isFitted === isFitted)
      .map(({ fromMmHg, toMmHg, meanIndex, minutes }) => ({
        x: (fromMmHg + toMmHg) / 2,
        y: meanIndex,
        area: Math.max(SMALLEST_POINT, (LARGEST_POINT * minutes) / most),
      }));
  const size = { size: { field: 'area', type: 'quantitative', scale: null } };
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
    fit === null || range === null || !namesOptimum
      ? []
      : [
          {
            x: fit.optimalMmHg,
            says: `investigational optimum, whole period: ${fit.optimalMmHg.toFixed(0)} mmHg`,
          },
        ];
  const isNearEnd = fit !== null && ((high - fit.optimalMmHg) / (high - low)) * WIDTH < LABEL_PIXELS;
  const plot: Spec = {
    width: WIDTH,
    height: HEIGHT,
    encoding: {
      x: {
        field: 'x',
        type: 'quantitative',
        scale: { domain: [low, high], nice: false, zero: false },
        title: 'CPP (mmHg)',
        axis: { tickCount: 8 },
      },
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
        mark: { type: 'rect', color: UNDER_LIMIT },
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
      ...lineLayer(line, COLOURS.ink, 1.6),
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
        mark: { type: 'point', filled: false, color: COLOURS.note, opacity: 1 },
        encoding: size,
      }),
      ...layerOf(pointsOf(true), {
        mark: { type: 'point', filled: true, color: COLOURS.note, opacity: 0.75 },
        encoding: size,
      }),
    ],
  };
  return {
    // As charts over time: only in a stack does the height of plots count as padding, and not as what text is guessed to take.
    vconcat: [plot],
    bounds: 'flush',
    autosize: { type: 'none' },
    padding: { ...PADDING, bottom: HEIGHT + PADDING.below },
  };
}
