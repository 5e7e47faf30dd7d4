import type { Interval } from '../../recording/interval.js';
import type { ZoneClock } from '../../recording/zone.js';
import { rowLines, rowNames } from './lanes.js';
import {
  hatching,
  layerOf,
  lineLayer,
  midnightLayer,
  nightLayer,
  PERIOD_PADDING,
  PERIOD_WIDTH,
  timeChannel,
} from './layers.js';
import { COLOURS } from './palette.js';
import { nightSpans, visibleSpans } from './spans.js';
import type { Spec } from './spec.js';
import { timeAxis } from './time-axis.js';

/** Rows, pixels: the name to the left of the plot, the bars in it. */
const ROW_PIXELS = 16;
const NAME_MIDDLE = 8;
const BAR_TOP = 3;
const BAR_BOTTOM = 13;
/** Fits the longest name also in fonts that are wider than Helvetica. */
export const NAMES_WIDTH = 285;
const WIDTH = PERIOD_WIDTH + PERIOD_PADDING.left - NAMES_WIDTH;
/** Between the strokes of a suspect bar. */
const HATCH_PIXELS = 4;

/** How a stretch was taken; a person's decision is told apart by its colour. */
export type BarKind = 'removed' | 'suspect' | 'decidedRemoved' | 'decidedSuspect' | 'decidedKept';

/** A stretch that was taken, milliseconds UTC. */
export interface StripBar extends Interval {
  readonly kind: BarKind;
}

/** What one rule took of one channel. */
export interface StripRow {
  readonly name: string;
  readonly bars: readonly StripBar[];
}

const isHatched = (kind: BarKind): boolean => kind === 'suspect' || kind === 'decidedSuspect';
const COLOUR: Readonly<Record<BarKind, string>> = {
  removed: COLOURS.removed,
  suspect: COLOURS.suspect,
  decidedRemoved: COLOURS.ink,
  decidedSuspect: COLOURS.ink,
  decidedKept: COLOURS.ink,
};

/** The bars of one kind: filled where removed, outlined where not, with strokes where suspect. */
function barLayers(rows: readonly StripRow[], kind: BarKind, period: Interval): Spec[] {
  const step = ((period.end - period.start) / 60_000 / WIDTH) * HATCH_PIXELS;
  const bars = rows.flatMap((row, i) =>
    visibleSpans(
      row.bars.filter((bar) => bar.kind === kind),
      period,
      WIDTH,
    ).map(({ from, to }) => ({
      x: from,
      x2: to,
      y: i * ROW_PIXELS + BAR_TOP,
      y2: i * ROW_PIXELS + BAR_BOTTOM,
    })),
  );
  const strokes = bars.flatMap(({ x, x2, y, y2 }, i) =>
    hatching([{ from: x, to: x2 }], [y2, y], step).map((point) => ({ ...point, run: point.run + i })),
  );
  const isFilled = kind === 'removed' || kind === 'decidedRemoved';
  const colour = COLOUR[kind];
  const corners = { x2: { field: 'x2' }, y2: { field: 'y2' } };
  return [
    ...layerOf(bars, {
      mark: isFilled
        ? { type: 'rect', color: colour }
        : { type: 'rect', filled: false, stroke: colour, strokeWidth: 1.2 },
      encoding: corners,
    }),
    ...(isHatched(kind) ? lineLayer(strokes, colour, 0.9) : []),
  ];
}

/** What was taken over a period, a row a rule, with the times of the overview. */
export function cleaningStripSpec(
  rows: readonly StripRow[],
  period: Interval,
  clock: ZoneClock,
  nights: readonly Interval[] = [],
): Spec {
  const axis = timeAxis(period, clock, WIDTH);
  const height = rows.length * ROW_PIXELS;
  const kinds: readonly BarKind[] = ['removed', 'suspect', 'decidedRemoved', 'decidedSuspect', 'decidedKept'];
  return {
    width: WIDTH,
    height,
    autosize: { type: 'none' },
    padding: { left: NAMES_WIDTH, right: PERIOD_PADDING.right, top: 2, bottom: axis.height },
    encoding: {
      x: timeChannel(axis, true),
      y: { field: 'y', type: 'quantitative', axis: null, scale: { domain: [height, 0], nice: false } },
    },
    layer: [
      ...nightLayer(nightSpans(nights, period), height),
      ...midnightLayer(axis.midnights, height),
      ...rowLines(rows.length, ROW_PIXELS, axis.endMinutes),
      ...kinds.flatMap((kind) => barLayers(rows, kind, period)),
      ...rowNames(
        rows.map(({ name }) => name),
        ROW_PIXELS,
        NAME_MIDDLE,
      ),
    ],
  };
}
