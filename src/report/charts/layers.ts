import { COLOURS } from './palette.js';
import { type LinePoint, withBreaks } from './reduce.js';
import type { ChartSpan } from './spans.js';
import type { Spec } from './spec.js';
import { LABEL_TOP, LINE_PIXELS, type TimeAxis, ZONE_OVERHANG } from './time-axis.js';

/** Width of the plot of every chart over a period, pixels. */
export const PERIOD_WIDTH = 780;

/**
 * Space beside the plot of a chart over a period, pixels: the same in all, so that their times stand below each
 * other. On the left it holds the names of lanes, on the right half a label of the time axis.
 */
export const PERIOD_PADDING = { left: 74, right: 27 } as const;

/** A layer over data; none where there are no data, since each layer costs time to compile. */
export const layerOf = (values: readonly object[], layer: Spec): Spec[] =>
  values.length === 0 ? [] : [{ data: { values }, ...layer }];

/** A line through points, broken between their runs. */
export const lineLayer = (points: readonly LinePoint[], color: string, strokeWidth: number): Spec[] =>
  layerOf(withBreaks(points), {
    mark: { type: 'line', color, strokeWidth, clip: true, strokeJoin: 'round' },
    // Points are in order: sorted by x, the end of one stroke and the start of the next could change places.
    encoding: { order: { value: null } },
  });

/** Time from left to right, minutes after the start of the chart; labels where `showHours`. */
export function timeChannel(axis: TimeAxis, showHours: boolean): Spec {
  const values = axis.ticks.map(({ at }) => at);
  const labels = Object.fromEntries(axis.ticks.map(({ at, lines }) => [at, lines]));
  return {
    field: 'x',
    type: 'quantitative',
    scale: { domain: [0, axis.endMinutes], nice: false },
    title: null,
    axis: showHours
      ? {
          values,
          labelExpr: `(${JSON.stringify(labels)})[datum.value]`,
          labelOverlap: false,
          labelFlush: false,
          labelLineHeight: LINE_PIXELS,
          labelPadding: LABEL_TOP - 5,
          title: axis.zone,
          titleColor: COLOURS.note,
          titleAnchor: 'end',
          titleAlign: 'right',
          titleBaseline: 'top',
          titleX: { expr: `width + ${ZONE_OVERHANG}` },
          titleY: LABEL_TOP + axis.zoneLine * LINE_PIXELS,
        }
      : { values, labels: false, ticks: false, domain: true },
  };
}

/** Stretches over the whole height of a plot. */
export const bandLayer = (
  spans: readonly ChartSpan[],
  height: number,
  color: string,
  opacity: number,
): Spec[] =>
  layerOf(
    spans.map(({ from, to }) => ({ x: from, x2: to })),
    {
      mark: { type: 'rect', color, opacity, clip: true },
      encoding: { x2: { field: 'x2' }, y: { value: 0 }, y2: { value: height } },
    },
  );

/** The hours of the night, so faint that lines of the grid stay visible. */
export const nightLayer = (nights: readonly ChartSpan[], height: number): Spec[] =>
  bandLayer(nights, height, COLOURS.ink, 0.05);

export const midnightLayer = (midnights: readonly number[], height: number): Spec[] =>
  layerOf(
    midnights.map((x) => ({ x })),
    {
      mark: { type: 'rule', color: COLOURS.removed, strokeWidth: 1 },
      encoding: { x: { field: 'x', type: 'quantitative' }, y: { value: 0 }, y2: { value: height } },
    },
  );

/** Slanted strokes that fill the stretches, as one path; `low` and `high` are values of y. */
export const hatching = (
  spans: readonly ChartSpan[],
  [low, high]: readonly [number, number],
  step: number,
): LinePoint[] =>
  spans.flatMap(({ from, to }, span) =>
    Array.from({ length: Math.ceil((to - from) / step) }, (_, i) => {
      const x = from + i * step;
      const share = Math.min(1, (to - x) / step);
      const run = span + i / 1e6;
      return [
        { x, y: low, run },
        { x: x + share * step, y: low + share * (high - low), run },
      ];
    }).flat(),
  );
