import { leftOut } from '../../clean/clean.js';
import type { Mark } from '../../clean/rule.js';
import type { ChannelKind } from '../../recording/channel.js';
import { type Interval, unite } from '../../recording/interval.js';
import { firstAfter, firstAtOrAfter } from '../../recording/search.js';
import type { Signal } from '../../recording/signal.js';
import { type LinePoint, minMaxLine } from './reduce.js';

/** The raw line over what the headline figures leave out of a channel, one sample more at both ends. */
export function removedLine(
  raw: Signal,
  marks: readonly Mark[],
  channel: ChannelKind,
  window: Interval,
  columns: number,
): LinePoint[] {
  const from = Math.max(0, firstAfter(raw.times, window.start) - 1);
  const to = firstAtOrAfter(raw.times, window.end) + 1;
  const times = raw.times.subarray(from, to);
  const known = new Uint8Array(times.length);
  const out = leftOut(marks, channel, 'headline').filter(
    ({ start, end }) => start <= window.end && end >= window.start,
  );
  for (const { start, end } of unite(out)) {
    const last = Math.min(times.length - 1, firstAfter(times, end));
    for (let i = Math.max(0, firstAtOrAfter(times, start) - 1); i < last; i++) known[i] = raw.known[from + i];
  }
  return minMaxLine({ times, values: raw.values.subarray(from, to), known }, window, columns);
}
