import type { Interval } from '../../recording/interval.js';
import type { Bedside } from '../bedside.js';
import { type Lane, lanesIn, TRIANGLE_PIXELS } from './lane-marks.js';
import { bandLayer, layerOf, midnightLayer, nightLayer, PERIOD_WIDTH, timeChannel } from './layers.js';
import { COLOURS } from './palette.js';
import { type ChartSpan, nightSpans, visibleSpans } from './spans.js';
import type { Spec } from './spec.js';
import type { StackPart } from './stack.js';
import type { TimeAxis } from './time-axis.js';

const ROW_PIXELS = 16;
const MIDDLE = 8;
/** Half the height of marks, pixels. */
const BAR = 4;
const STROKE = 6;
const ROUND = 3;
const LAST = 1;

type Spans = 'bars' | 'frames' | 'strokes' | 'rounds' | 'lasts';

/** A name to the left of the plot for each row. */
export const rowNames = (names: readonly string[], rowPixels: number, middle: number): Spec[] =>
  layerOf(
    names.map((name, i) => ({ y: i * rowPixels + middle, name })),
    {
      mark: { type: 'text', align: 'right', baseline: 'middle', fontSize: 11, limit: 0, color: COLOURS.ink },
      encoding: { x: { value: -7 }, text: { field: 'name', type: 'nominal' } },
    },
  );

/** A thin line under each row; it stands on the time axis, so that there is one also where nothing else does. */
export const rowLines = (count: number, rowPixels: number, endMinutes: number): Spec[] =>
  layerOf(
    Array.from({ length: count }, (_, i) => ({ x: 0, x2: endMinutes, y: (i + 1) * rowPixels })),
    {
      mark: { type: 'rule', color: COLOURS.grid, strokeWidth: 1 },
      encoding: { x2: { field: 'x2' } },
    },
  );

/** The marks of one kind in all rows. */
const rects = (lanes: readonly Lane[], kind: Spans, half: number, look: object): Spec[] =>
  layerOf(
    lanes.flatMap((lane, i) =>
      lane[kind].map(({ from, to }: ChartSpan) => {
        const middle = i * ROW_PIXELS + MIDDLE;
        return { x: from, x2: to, y: middle - half, y2: middle + half };
      }),
    ),
    {
      mark: { type: 'rect', ...look },
      encoding: { x2: { field: 'x2' }, y2: { field: 'y2' } },
    },
  );

/**
 * What the logs say, a row each of alarms, treatments and the open drain; no row where there is nothing, and nothing
 * at all where there is none. All in ink, told apart by their shapes and names.
 */
export function lanesPart(
  {
    bedside,
    episodes,
    nights,
  }: {
    readonly bedside: Bedside;
    readonly episodes: readonly Interval[];
    readonly nights: readonly Interval[];
  },
  window: Interval,
  axis: TimeAxis,
): StackPart[] {
  const lanes = lanesIn(bedside, window, PERIOD_WIDTH);
  if (lanes.length === 0) return [];
  const height = lanes.length * ROW_PIXELS;
  const filled = { color: COLOURS.ink };
  const outlined = { fill: COLOURS.paper, stroke: COLOURS.ink, strokeWidth: 1.2 };
  const triangles = lanes.flatMap(({ triangles }, i) =>
    triangles.map((x) => ({ x, y: i * ROW_PIXELS + MIDDLE })),
  );
  const spec = (showHours: boolean): Spec => ({
    width: PERIOD_WIDTH,
    height,
    encoding: {
      x: timeChannel(axis, showHours),
      y: { field: 'y', type: 'quantitative', axis: null, scale: { domain: [height, 0], nice: false } },
    },
    layer: [
      ...nightLayer(nightSpans(nights, window), height),
      ...bandLayer(visibleSpans(episodes, window, PERIOD_WIDTH), height, COLOURS.episode, 0.45),
      ...midnightLayer(axis.midnights, height),
      ...rowLines(lanes.length, ROW_PIXELS, axis.endMinutes),
      ...rects(lanes, 'bars', BAR, filled),
      ...rects(lanes, 'frames', BAR, outlined),
      ...rects(lanes, 'strokes', STROKE, filled),
      ...rects(lanes, 'lasts', LAST, filled),
      ...rects(lanes, 'rounds', ROUND, { ...outlined, cornerRadius: ROUND }),
      ...layerOf(triangles, {
        mark: {
          type: 'point',
          shape: 'triangle-down',
          size: TRIANGLE_PIXELS ** 2,
          filled: true,
          color: COLOURS.ink,
          opacity: 1,
        },
      }),
      ...rowNames(
        lanes.map(({ name }) => name),
        ROW_PIXELS,
        MIDDLE,
      ),
    ],
  });
  return [{ height, spec }];
}
