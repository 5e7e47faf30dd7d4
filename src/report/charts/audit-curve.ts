import type { CurveResult } from '../results-audit-response.js';
import { layerOf } from './layers.js';
import { COLOURS } from './palette.js';
import type { Spec } from './spec.js';

const WIDTH = 500;
const HEIGHT = 190;
const PADDING = { left: 84, right: 30, top: 10 } as const;
/** Who is at risk stands under the curve: two rows of numbers. */
const RISK_HEIGHT = 34;
/** Between the curve and the rows, for the labels and the title of its axis. */
const AXIS_PIXELS = 46;

/** Areas of what came first: neutral, since none of them is a verdict. */
export const CURVE_COLOURS = {
  happened: COLOURS.difference,
  resolved: '#d5d5d5',
  died: COLOURS.ink,
} as const;

/** Shares that lie on each other, as steps up to where they are known. */
function stackOf({ points, knownMinutes }: CurveResult, most: number): Record<string, number>[] {
  const end = Math.min(most, knownMinutes);
  const rows = points
    .filter(({ minutes }) => minutes <= end)
    .map(({ minutes, happenedShare, resolvedFirstShare, diedFirstShare }) => ({
      x: minutes,
      a: happenedShare,
      b: happenedShare + (resolvedFirstShare ?? 0),
      c: happenedShare + (resolvedFirstShare ?? 0) + (diedFirstShare ?? 0),
      zero: 0,
    }));
  const last = rows.at(-1);
  return last === undefined || last.x === end ? rows : [...rows, { ...last, x: end }];
}

const numbers = (row: 'episodes' | 'patients', y: number, { atRisk }: CurveResult): Spec[] =>
  layerOf(
    atRisk.map(({ minutes, [row]: n }) => ({ x: minutes, y, says: n === null ? '–' : String(n) })),
    {
      mark: { type: 'text', fontSize: 11, color: COLOURS.ink },
      encoding: { text: { field: 'says', type: 'nominal' } },
    },
  );

/**
 * What came first over the first hour: the share to whom it happened, on it those that were over before, on these those who
 * died before; below it the episodes and patients that were still waited for.
 *
 * @param clockTitle of the axis of time
 */
export function responseCurveSpec(curve: CurveResult, clockTitle: string, most = 60): Spec {
  const rows = stackOf(curve, most);
  // Between the points of a masked curve nothing is told, and a step would be one that never was.
  const interpolate = curve.isCoarse ? 'linear' : 'step-after';
  const across = { x: { value: 0 }, x2: { value: WIDTH } };
  const x = (axis: object | null): Spec => ({
    field: 'x',
    type: 'quantitative',
    scale: { domain: [0, most], nice: false },
    title: axis === null ? null : clockTitle,
    axis,
  });
  const area = (low: string, high: string, color: string): Spec[] =>
    layerOf(rows, {
      mark: { type: 'area', interpolate, color, opacity: 1 },
      encoding: {
        y: { field: high, type: 'quantitative' },
        y2: { field: low },
        order: { value: null },
      },
    });
  const steps = (field: string, strokeWidth: number): Spec[] =>
    layerOf(rows, {
      mark: { type: 'line', interpolate, color: COLOURS.ink, strokeWidth },
      encoding: { y: { field, type: 'quantitative' }, order: { value: null } },
    });
  const plot: Spec = {
    width: WIDTH,
    height: HEIGHT,
    encoding: {
      x: x({ values: ticks(most), titlePadding: 6 }),
      y: {
        field: 'y',
        type: 'quantitative',
        scale: { domain: [0, 1], nice: false },
        title: 'share of episodes',
        axis: { values: [0, 0.25, 0.5, 0.75, 1], format: '.0%', titleX: -44 },
      },
    },
    layer: [
      ...layerOf([{ y: 0 }], { mark: { type: 'rule', color: COLOURS.grid }, encoding: across }),
      ...area('zero', 'a', CURVE_COLOURS.happened),
      ...(curve.isCoarse
        ? []
        : [...area('a', 'b', CURVE_COLOURS.resolved), ...area('b', 'c', CURVE_COLOURS.died)]),
      ...steps('a', 1.4),
      ...(curve.isCoarse ? [] : steps('b', 0.6)),
    ],
  };
  const risk: Spec = {
    width: WIDTH,
    height: RISK_HEIGHT,
    encoding: {
      x: x(null),
      y: { field: 'y', type: 'quantitative', scale: { domain: [2, 0], nice: false }, axis: null },
    },
    layer: [
      ...numbers('episodes', 0.5, curve),
      ...numbers('patients', 1.5, curve),
      ...(['episodes', 'patients'] as const).flatMap((name, i) =>
        layerOf([{ x: 0, y: i + 0.5, says: name }], {
          mark: { type: 'text', align: 'right', dx: -18, fontSize: 11, color: COLOURS.note },
          encoding: { text: { field: 'says', type: 'nominal' } },
        }),
      ),
    ],
  };
  return {
    vconcat: [plot, risk],
    spacing: AXIS_PIXELS,
    bounds: 'flush',
    autosize: { type: 'none' },
    padding: { ...PADDING, bottom: HEIGHT + AXIS_PIXELS + RISK_HEIGHT + 4 },
  };
}

const ticks = (most: number): number[] => Array.from({ length: most / 10 + 1 }, (_, i) => i * 10);
