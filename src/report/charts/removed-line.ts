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
  period: Interval,
  columns: number,
): LinePoint[] {
  let run = 0;
  return unite(leftOut(marks, channel, 'headline')).flatMap(({ start, end }) => {
    const first = Math.max(0, firstAtOrAfter(raw.times, start) - 1);
    const last = Math.min(raw.times.length - 1, firstAfter(raw.times, end));
    const window = {
      start: Math.max(period.start, raw.times[first]),
      end: Math.min(period.end, raw.times[last]),
    };
    if (!(window.start < window.end)) return [];
    const share = (window.end - window.start) / (period.end - period.start);
    const shift = (window.start - period.start) / 60_000;
    const points = minMaxLine(raw, window, Math.max(2, Math.ceil(columns * share))).map(
      ({ x, y, run: own }) => ({
        x: x + shift,
        y,
        run: run + own,
      }),
    );
    run = points.at(-1)?.run ?? run;
    return points;
  });
}
