import { type LinePoint, withBreaks } from './reduce.js';
import type { Spec } from './spec.js';
import type { TimeAxis } from './time-axis.js';

/** Width of the plot of every chart over a period, pixels. */
export const PERIOD_WIDTH = 780;

/** Space beside the plot of a chart over a period, pixels: the same in all, so that their times stand below each other. */
export const PERIOD_PADDING = { left: 51, right: 27 } as const;

/** A layer over data; none where there are no data, since each layer costs time to compile. */
export const layerOf = (values: readonly object[], layer: Spec): Spec[] =>
  values.length === 0 ? [] : [{ data: { values }, ...layer }];

/** A line through points, broken between their runs. */
export const lineLayer = (points: readonly LinePoint[], color: string, strokeWidth: number): Spec[] =>
  layerOf(withBreaks(points), {
    mark: { type: 'line', color, strokeWidth, clip: true, strokeJoin: 'round' },
  });

/** Time from left to right, minutes after the start of the chart; labels where `showHours`. */
export const timeChannel = (axis: TimeAxis, showHours: boolean): Spec => ({
  field: 'x',
  type: 'quantitative',
  scale: { domain: [0, axis.endMinutes], nice: false },
  title: null,
  axis: showHours
    ? {
        values: [...axis.ticks],
        labelExpr: axis.labelExpression,
        labelOverlap: false,
        labelFlush: false,
      }
    : { values: [...axis.ticks], labels: false, ticks: false, domain: true },
});

export const midnightLayer = (midnights: readonly number[], color: string, height: number): Spec[] =>
  layerOf(
    midnights.map((x) => ({ x })),
    {
      mark: { type: 'rule', color, strokeWidth: 1 },
      encoding: { x: { field: 'x', type: 'quantitative' }, y: { value: 0 }, y2: { value: height } },
    },
  );
