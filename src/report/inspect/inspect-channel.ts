import { CHANNEL_UNITS, type Channel } from '../../recording/channel.js';
import type { Interval } from '../../recording/interval.js';
import { median } from '../../recording/rolling-median.js';
import type { Signal } from '../../recording/signal.js';
import type { ZoneClock } from '../../recording/zone.js';
import { samplingAccount } from '../../summarize/sampling-account.js';
import type { ChannelInspection } from './inspection.js';

/** Parts of the time from first row to last, each one character of a strip. */
const STRIP_PARTS = 40;

/** The highest value of x(t) in each of equal parts of the time, by samples and lines between them; null where unknown. */
function stripOf({ times, values, known }: Signal, { start, end }: Interval): (number | null)[] {
  const strip: (number | null)[] = new Array(STRIP_PARTS).fill(null);
  const width = (end - start) / STRIP_PARTS;
  const partOf = (time: number): number =>
    width > 0 ? Math.min(STRIP_PARTS - 1, Math.floor((time - start) / width)) : 0;
  const put = (part: number, value: number): void => {
    strip[part] = Math.max(strip[part] ?? Number.NEGATIVE_INFINITY, value);
  };
  for (let i = 0; i < times.length; i++) {
    put(partOf(times[i]), values[i]);
    if (!known[i] || i + 1 === times.length) continue;
    for (let part = partOf(times[i]) + 1; part < partOf(times[i + 1]); part++) {
      const share = (start + (part + 0.5) * width - times[i]) / (times[i + 1] - times[i]);
      put(part, values[i] + share * (values[i + 1] - values[i]));
    }
  }
  return strip;
}

/** Describes a channel as it was read, before any cleaning; null where it has no sample. */
export function inspectChannel(
  channel: Channel,
  extent: Interval,
  clock: ZoneClock,
): ChannelInspection | null {
  const { times, values } = channel.signal;
  if (times.length === 0) return null;
  const { stretches, gaps, unevenShare } = samplingAccount(times);
  const longest = gaps.reduce<Interval | null>(
    (most, gap) => (most === null || gap.end - gap.start > most.end - most.start ? gap : most),
    null,
  );
  return {
    channel: channel.kind,
    header: channel.header,
    source: channel.source,
    derivedFrom: channel.derivedFrom,
    unit: CHANNEL_UNITS[channel.kind],
    decimals: channel.decimals,
    samples: times.length,
    blanks: channel.blanks.length,
    lowest: values.reduce((a, b) => Math.min(a, b)),
    median: median(values),
    highest: values.reduce((a, b) => Math.max(a, b)),
    strip: stripOf(channel.signal, extent),
    rates: stretches.map(({ start, end, intervalMs }) => ({
      start: clock.format(start),
      end: clock.format(end),
      intervalSeconds: intervalMs / 1000,
    })),
    gaps: {
      count: gaps.length,
      longest: longest && {
        start: clock.format(longest.start),
        seconds: (longest.end - longest.start) / 1000,
      },
    },
    unevenShare,
  };
}
