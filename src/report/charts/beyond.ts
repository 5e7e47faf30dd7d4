import { type Interval, unite } from '../../recording/interval.js';
import { layerOf } from './layers.js';
import type { LinePoint } from './reduce.js';
import { type ChartSpan, visibleSpans } from './spans.js';
import type { Spec } from './spec.js';

/** The mark of what is cut off, pixels. */
const THICKNESS = 2;
const LEAST_LENGTH = 3;

/** What of a line lies beyond the drawn range, minutes after the start of the chart. */
export interface Beyond {
  readonly above: readonly ChartSpan[];
  readonly below: readonly ChartSpan[];
}

/** The stretches in which a line is above the value, by the points of its reduction. */
function above(points: readonly LinePoint[], value: number): Interval[] {
  const found: Interval[] = [];
  points.slice(1).forEach((b, i) => {
    const a = points[i];
    if (a.run !== b.run || Math.max(a.y, b.y) <= value) return;
    const crossing = a.x + ((b.x - a.x) * (value - a.y)) / (b.y - a.y);
    found.push({ start: a.y > value ? a.x : crossing, end: b.y > value ? b.x : crossing });
  });
  return unite(found);
}

/** Where lines leave the drawn range, each stretch wide enough to be seen. */
export function beyondRange(
  points: readonly LinePoint[],
  [low, high]: readonly [number, number],
  endMinutes: number,
  width: number,
): Beyond {
  const visible = (stretches: readonly Interval[]): ChartSpan[] =>
    visibleSpans(
      stretches.map(({ start, end }) => ({ start: start * 60_000, end: end * 60_000 })),
      { start: 0, end: endMinutes * 60_000 },
      width,
      LEAST_LENGTH,
    );
  return {
    above: visible(above(points, high)),
    below: visible(
      above(
        points.map(({ x, y, run }) => ({ x, y: -y, run })),
        -low,
      ),
    ),
  };
}

/** Short thick lines along the upper and lower edge where a line is cut off. */
export const beyondLayer = (
  { above: over, below }: Beyond,
  [low, high]: readonly [number, number],
  height: number,
  color: string,
): Spec[] => {
  const inset = ((high - low) / height) * THICKNESS;
  const at = (y: number) => (span: ChartSpan) => ({ x: span.from, x2: span.to, y, y2: y + inset });
  return layerOf([...over.map(at(high - inset)), ...below.map(at(low))], {
    mark: { type: 'rect', color },
    encoding: { x2: { field: 'x2' }, y2: { field: 'y2' } },
  });
};
