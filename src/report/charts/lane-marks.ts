import type { Interval } from '../../recording/interval.js';
import type { Bedside } from '../bedside.js';
import { type ChartSpan, visibleSpans } from './spans.js';

/** What a lane draws, minutes after the start of the chart; marks that would touch are one. */
export interface Lane {
  readonly name: 'Alarms' | 'Treatments' | 'Drain open';
  /** Filled. */
  readonly bars: readonly ChartSpan[];
  /** Only outlined. */
  readonly frames: readonly ChartSpan[];
  /** Upright strokes. */
  readonly strokes: readonly ChartSpan[];
  /** Round, or with round ends where several are one. */
  readonly rounds: readonly ChartSpan[];
  /** Middles of triangles. */
  readonly triangles: readonly number[];
  /** Thin lines: how long something lasted, or several that are one. */
  readonly lasts: readonly ChartSpan[];
}

/** Widths of marks, pixels. */
const ROUND_PIXELS = 6;
export const TRIANGLE_PIXELS = 8;
const STROKE_PIXELS = 1.5;

const EMPTY = { bars: [], frames: [], strokes: [], rounds: [], triangles: [], lasts: [] };

const isInside = (at: number, { start, end }: Interval): boolean => at >= start && at <= end;

/** Marks of one width around instants; those that touch are one. */
const around = (
  instants: readonly number[],
  window: Interval,
  width: number,
  pixels: number,
): ChartSpan[] => {
  const half = ((window.end - window.start) / width) * (pixels / 2);
  return visibleSpans(
    instants.filter((at) => isInside(at, window)).map((at) => ({ start: at - half, end: at + half })),
    window,
    width,
    pixels,
  );
};

function alarmLane({ alarms }: Bedside, window: Interval, width: number): Lane {
  const of = alarms ?? [];
  return {
    ...EMPTY,
    name: 'Alarms',
    bars: visibleSpans(
      of.flatMap(({ start, end }) => (end === null ? [] : [{ start, end }])),
      window,
      width,
    ),
    strokes: around(
      of.flatMap(({ start, end }) => (end === null ? [start] : [])),
      window,
      width,
      STROKE_PIXELS,
    ),
    // How long it went on nobody knows: nothing drawn would read as silence.
    lasts: visibleSpans(
      of.flatMap(({ start, end }) =>
        end === null && isInside(start, window) ? [{ start, end: window.end }] : [],
      ),
      window,
      width,
    ),
    rounds: around(
      of.flatMap(({ acknowledged }) => (acknowledged === null ? [] : [acknowledged])),
      window,
      width,
      ROUND_PIXELS,
    ),
  };
}

function treatmentLane({ entries }: Bedside, window: Interval, width: number): Lane {
  const shown = (entries ?? [])
    .filter(({ isTreatment }) => isTreatment)
    .map(({ start, end }) => ({ start, end: Math.max(start, end ?? start) }))
    .filter(({ start, end }) => start <= window.end && end >= window.start)
    .sort((a, b) => a.start - b.start);
  const leastMs = ((window.end - window.start) / width) * TRIANGLE_PIXELS;
  const apart: number[] = [];
  const lasts: Interval[] = [];
  for (const { start, end } of shown) {
    const last = apart.at(-1);
    const isApart = last === undefined || start - last >= leastMs;
    if (isApart && isInside(start, window)) apart.push(start);
    lasts.push({ start: isApart ? start : last, end });
  }
  return {
    ...EMPTY,
    name: 'Treatments',
    triangles: apart.map((start) => (start - window.start) / 60_000),
    lasts: visibleSpans(
      lasts.filter(({ start, end }) => start < end),
      window,
      width,
    ),
  };
}

/** The lanes that have something in the window. */
export function lanesIn(bedside: Bedside, window: Interval, width: number): Lane[] {
  const lanes: Lane[] = [
    alarmLane(bedside, window, width),
    treatmentLane(bedside, window, width),
    { ...EMPTY, name: 'Drain open', frames: visibleSpans(bedside.drainOpen, window, width) },
  ];
  return lanes.filter(({ name: _, ...marks }) => Object.values(marks).some(({ length }) => length > 0));
}
