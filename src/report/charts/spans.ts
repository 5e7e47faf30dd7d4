import type { Interval } from '../../recording/interval.js';

/** A stretch on a time axis, minutes after the start of the chart. */
export interface ChartSpan {
  readonly from: number;
  readonly to: number;
}

/** A cough of 5 s has to show in a night and in a week. */
const LEAST_PIXELS = 2;

/**
 * Stretches as a chart has them: inside the window, wide enough to be seen, and few where they would touch.
 *
 * @param width of the plot in pixels
 */
export function visibleSpans(
  stretches: readonly Interval[],
  window: Interval,
  width: number,
  leastPixels = LEAST_PIXELS,
): ChartSpan[] {
  const endMinutes = (window.end - window.start) / 60_000;
  const least = (leastPixels * endMinutes) / width;
  const spans: { from: number; to: number }[] = [];
  for (const { start, end } of stretches.toSorted((a, b) => a.start - b.start)) {
    if (end < window.start || start > window.end) continue;
    const from = Math.max(0, (start - window.start) / 60_000);
    const to = Math.min(endMinutes, Math.max((end - window.start) / 60_000, from + least));
    const last = spans.at(-1);
    if (last && from <= last.to) last.to = Math.max(last.to, to);
    else spans.push({ from: Math.max(0, Math.min(from, endMinutes - least)), to });
  }
  return spans;
}

/** Nights inside the window; none where they are all of it, since then there is nothing to tell apart. */
export function nightSpans(nights: readonly Interval[], window: Interval): ChartSpan[] {
  const inside = nights
    .map(({ start, end }) => ({ start: Math.max(start, window.start), end: Math.min(end, window.end) }))
    .filter(({ start, end }) => start < end);
  const dark = inside.reduce((sum, { start, end }) => sum + end - start, 0);
  if (dark >= window.end - window.start) return [];
  return inside.map(({ start, end }) => ({
    from: (start - window.start) / 60_000,
    to: (end - window.start) / 60_000,
  }));
}
