import type { Interval } from '../../recording/interval.js';
import type { ZoneClock } from '../../recording/zone.js';
import { layerOf, midnightLayer, PERIOD_PADDING, PERIOD_WIDTH, timeChannel } from './layers.js';
import { COLOURS } from './palette.js';
import type { ChartSpan } from './panel.js';
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
/** A cough of 5 s has to show in a night and in a week. */
const LEAST_PIXELS = 2;
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

/** Bars as the chart has them: minutes after its start, wide enough to be seen, and few where they would touch. */
export function barSpans(bars: readonly StripBar[], period: Interval, width = WIDTH): ChartSpan[] {
  const endMinutes = (period.end - period.start) / 60_000;
  const minutesAPixel = endMinutes / width;
  const spans: { from: number; to: number }[] = [];
  for (const { start, end } of bars.toSorted((a, b) => a.start - b.start)) {
    const from = Math.max(0, (start - period.start) / 60_000);
    const to = Math.min(
      endMinutes,
      Math.max((end - period.start) / 60_000, from + LEAST_PIXELS * minutesAPixel),
    );
    const last = spans.at(-1);
    if (last && from <= last.to) last.to = Math.max(last.to, to);
    else spans.push({ from: Math.min(from, endMinutes - LEAST_PIXELS * minutesAPixel), to });
  }
  return spans;
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
    barSpans(
      row.bars.filter((bar) => bar.kind === kind),
      period,
    ).map(({ from, to }) => ({
      x: from,
      x2: to,
      y: i * ROW_PIXELS + BAR_TOP,
      y2: i * ROW_PIXELS + BAR_BOTTOM,
    })),
  );
  const strokes = bars.flatMap((bar) =>
    Array.from({ length: Math.ceil((bar.x2 - bar.x) / step) }, (_, k) => ({
      x: bar.x + k * step,
      x2: Math.min(bar.x + (k + 1) * step, bar.x2),
      y: bar.y2,
      y2: bar.y,
    })),
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
    ...(isHatched(kind)
      ? layerOf(strokes, { mark: { type: 'rule', color: colour, strokeWidth: 0.9 }, encoding: corners })
      : []),
  ];
}

/** What was taken over a period, a row a rule, with the times of the overview. */
export function cleaningStripSpec(rows: readonly StripRow[], period: Interval, clock: ZoneClock): Spec {
  const axis = timeAxis(period, clock);
  const height = rows.length * ROW_PIXELS;
  const kinds: readonly BarKind[] = ['removed', 'suspect', 'decidedRemoved', 'decidedSuspect', 'decidedKept'];
  return {
    width: WIDTH,
    height,
    autosize: { type: 'none' },
    padding: { left: NAMES_WIDTH, right: PERIOD_PADDING.right, top: 2, bottom: 22 },
    encoding: {
      x: timeChannel(axis, true),
      y: { field: 'y', type: 'quantitative', axis: null, scale: { domain: [height, 0], nice: false } },
    },
    layer: [
      ...midnightLayer(axis.midnights, COLOURS.removed, height),
      ...layerOf(
        rows.map((_, i) => ({ y: (i + 1) * ROW_PIXELS })),
        {
          mark: { type: 'rule', color: COLOURS.grid, strokeWidth: 1 },
          encoding: { x: { value: 0 }, x2: { value: WIDTH } },
        },
      ),
      ...kinds.flatMap((kind) => barLayers(rows, kind, period)),
      ...layerOf(
        rows.map(({ name }, i) => ({ y: i * ROW_PIXELS + NAME_MIDDLE, name })),
        {
          mark: {
            type: 'text',
            align: 'right',
            baseline: 'middle',
            fontSize: 11,
            limit: 0,
            color: COLOURS.ink,
          },
          encoding: { x: { value: -7 }, text: { field: 'name', type: 'nominal' } },
        },
      ),
    ],
  };
}
