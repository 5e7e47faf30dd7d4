import { CHANNEL_NAMES, type ChannelKind } from '../../recording/channel.js';
import { maxGapMs } from '../../recording/sampling.js';
import { firstAfter } from '../../recording/search.js';
import type { ZoneClock } from '../../recording/zone.js';
import { GrowingFloats } from '../rows/growing.js';
import { RowSeries } from '../rows/row-series.js';
import type { RowSetAside } from '../rows/set-aside.js';
import { SECOND_MS } from './second.js';
import { WaveSeries } from './wave-series.js';

/** What is left of all series once waveforms have won, and the rows that they leave without a value. */
export interface Beside {
  readonly series: readonly RowSeries[];
  readonly setAside: readonly RowSetAside[];
  readonly warnings: readonly string[];
}

const KNOWN_MS = maxGapMs(SECOND_MS);

/** True where the means of a waveform, at these times, are known: x(t) is drawn between neighbours this close. */
function isKnownAt(times: Float64Array, time: number): boolean {
  const behind = firstAfter(times, time);
  if (behind > 0 && times[behind - 1] === time) return true;
  return behind > 0 && behind < times.length && times[behind] - times[behind - 1] <= KNOWN_MS;
}

/** The seconds in which waveforms hold a channel, in order. */
function secondsOf(waves: readonly WaveSeries[]): Map<ChannelKind, Float64Array> {
  const all = new Map<ChannelKind, GrowingFloats>();
  for (const { channels, times } of waves) {
    for (const { kind, values } of channels) {
      const seconds = all.get(kind) ?? new GrowingFloats();
      for (let i = 0; i < times.length; i++) if (!Number.isNaN(values.at(i))) seconds.push(times.at(i));
      all.set(kind, seconds);
    }
  }
  return new Map([...all].map(([kind, seconds]) => [kind, seconds.values().slice().sort()]));
}

/**
 * Where a channel comes as a waveform and as numbers too, the waveform counts wherever it is known, and the numbers
 * elsewhere: a monitor makes its numbers of the same waveform, later and smoothed in its own way, so the two would
 * contradict each other in each second. A row of which nothing is left is set aside.
 */
export function besideWaveforms(all: readonly RowSeries[], clock: ZoneClock): Beside {
  const waves = all.filter((one) => one instanceof WaveSeries);
  if (waves.length === 0 || waves.length === all.length) return { series: all, setAside: [], warnings: [] };
  const seconds = secondsOf(waves);
  const setAside: RowSetAside[] = [];
  const warnings: string[] = [];
  const series = all.map((one) => {
    const shared = one.channels.flatMap(({ kind }, c) => (seconds.has(kind) ? [c] : []));
    if (one instanceof WaveSeries || shared.length === 0) return one;
    const { kept, aside, taken } = yielding(one, seconds, clock);
    if (taken.size === 0) return one;
    if (aside) setAside.push(aside);
    const names = [...taken].map((kind) => CHANNEL_NAMES[kind]).join(' and ');
    warnings.push(
      `${one.file}: ${names} also ${taken.size === 1 ? 'comes' : 'come'} as a waveform; where that is known it counts, and the numbers of this file elsewhere.`,
    );
    return kept;
  });
  return { series, setAside, warnings };
}

/** The rows of a series without what a waveform knows. */
function yielding(
  one: RowSeries,
  seconds: ReadonlyMap<ChannelKind, Float64Array>,
  clock: ZoneClock,
): { kept: RowSeries; aside: RowSetAside | null; taken: Set<ChannelKind> } {
  const kept = new RowSeries(one.file, one.columns, clock);
  const taken = new Set<ChannelKind>();
  const values = new Float64Array(one.channels.length);
  let [rows, line] = [0, 0];
  for (let i = 0; i < one.times.length; i++) {
    const time = one.times.at(i);
    let isTaken = false;
    for (const [c, channel] of one.channels.entries()) {
      values[c] = channel.values.at(i);
      const times = seconds.get(channel.kind);
      if (!times || Number.isNaN(values[c]) || !isKnownAt(times, time)) continue;
      values[c] = Number.NaN;
      isTaken = true;
      taken.add(channel.kind);
    }
    if (isTaken && values.every(Number.isNaN)) {
      if (rows++ === 0) line = one.lines.at(i);
    } else kept.push(time, one.lines.at(i), values);
  }
  for (const [c, { decimals }] of one.channels.entries()) kept.channels[c].decimals = decimals;
  kept.finish();
  const reason = 'the waveform of the same time counts, and nothing else stands in the row';
  return { kept, aside: rows === 0 ? null : { file: one.file, line, rows, kind: 'repeat', reason }, taken };
}
