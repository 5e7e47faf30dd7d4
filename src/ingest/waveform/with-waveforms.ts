import type { Channel, ChannelKind } from '../../recording/channel.js';
import { unite } from '../../recording/interval.js';
import type { Recording } from '../../recording/recording.js';
import { firstAtOrAfter } from '../../recording/search.js';
import type { WaveformMark } from '../../recording/waveform.js';
import { derivedChannel } from './derived-channel.js';
import { WINDOW_MS } from './pulse-window.js';
import type { Pulse } from './pulses.js';
import { SECOND_MS } from './second.js';
import type { WaveResult } from './wave-result.js';

const AMPLITUDE =
  'amplitude of its fundamental at the heart rate, half of peak to peak, over 10 s of the waveform';
const RATE = 'strongest frequency of the pulse over 10 s of the waveform';
/** A window is kept where at least so many of its seconds are in the recording. */
const LEAST_SECONDS = 8;

/** How many samples a channel has from one time up to another. */
function samplesIn({ signal: { times } }: Channel, from: number, to: number): number {
  return firstAtOrAfter(times, to) - firstAtOrAfter(times, from);
}

/** A channel that has samples. */
const present = (...channels: (Channel | undefined)[]): Channel | undefined =>
  channels.find((channel) => !isMissing(channel));

const isMissing = (channel: Channel | undefined): boolean => !channel || channel.signal.times.length === 0;

/** A channel with a sample for each window whose seconds are in the recording. */
function ofPulses(
  pulses: readonly Pulse[],
  from: Channel,
  to: { kind: ChannelKind; derivedFrom: string; decimals: number },
  pick: (pulse: Pulse) => number,
): Channel | null {
  const kept = pulses.filter(({ time }) => {
    const start = time - WINDOW_MS / 2;
    return samplesIn(from, start, start + WINDOW_MS) >= LEAST_SECONDS;
  });
  const times = Float64Array.from(kept, ({ time }) => time);
  return derivedChannel(
    { ...to, header: from.header, intervalMs: WINDOW_MS },
    times,
    Float64Array.from(kept, pick),
  );
}

/** Systolic or diastolic pressure, where both seconds that it was found in are in the recording. */
function ofRanges(results: readonly WaveResult[], map: Channel, kind: 'sbp' | 'dbp'): Channel | null {
  const end = kind === 'sbp' ? 'highest' : 'lowest';
  const length = results.reduce((sum, { ranges }) => sum + ranges.times.length, 0);
  const times = new Float64Array(length);
  const values = new Float64Array(length);
  let n = 0;
  for (const { ranges } of results) {
    for (let i = 0; i < ranges.times.length; i++) {
      const time = ranges.times[i];
      if (samplesIn(map, time - SECOND_MS, time + 1) !== 2) continue;
      times[n] = time;
      values[n++] = ranges[end][i];
    }
  }
  const of = { kind, header: map.header, derivedFrom: `${end} value of the arterial waveform in 2 s` };
  return derivedChannel(
    { ...of, decimals: map.decimals, intervalMs: null },
    times.subarray(0, n),
    values.subarray(0, n),
  );
}

/**
 * The recording with what its waveforms showed beside their means: marks, pulses, and systolic and diastolic pressure and
 * heart rate where no export holds them.
 *
 * @param isWanted the channels that a report rests on
 */
export function withWaveforms(
  recording: Recording,
  results: readonly WaveResult[],
  isWanted: (kind: ChannelKind) => boolean,
): Recording {
  if (results.length === 0) return recording;
  const { channels } = recording;
  const map = present(channels.map);
  const icp = present(channels.icp, channels.icpDrain);
  const pulses = results.flatMap((result) => result.pulses);
  const isAskedFor = (kind: ChannelKind): boolean => isWanted(kind) && isMissing(channels[kind]);
  const amplitude = { derivedFrom: AMPLITUDE, decimals: 2 };
  const rateOf = map ?? icp;
  const found = [
    map && isAskedFor('sbp') ? ofRanges(results, map, 'sbp') : null,
    map && isAskedFor('dbp') ? ofRanges(results, map, 'dbp') : null,
    rateOf && isAskedFor('hr')
      ? ofPulses(pulses, rateOf, { kind: 'hr', derivedFrom: RATE, decimals: 0 }, ({ rate }) => rate)
      : null,
    icp ? ofPulses(pulses, icp, { kind: 'icpPulse', ...amplitude }, ({ icpMmHg }) => icpMmHg) : null,
    map ? ofPulses(pulses, map, { kind: 'abpPulse', ...amplitude }, ({ abpMmHg }) => abpMmHg) : null,
  ];
  const more = Object.fromEntries(found.flatMap((one) => (one ? [[one.kind, one]] : [])));
  return {
    ...recording,
    channels: { ...channels, ...more },
    waveform: {
      samplesPerSecond: Math.max(...results.map(({ samplesPerSecond }) => samplesPerSecond)),
      marks: unitedMarks(results.flatMap(({ marks }) => marks)),
    },
  };
}

/** Marks by start; files that overlap saw the same artifact, which is one mark. */
function unitedMarks(marks: readonly WaveformMark[]): WaveformMark[] {
  const alike = new Map<string, WaveformMark[]>();
  for (const mark of marks) {
    const key = `${mark.channel} ${mark.rule} ${mark.direction ?? ''}`;
    alike.set(key, [...(alike.get(key) ?? []), mark]);
  }
  return [...alike.values()]
    .flatMap((same) => unite(same).map((stretch): WaveformMark => ({ ...same[0], ...stretch })))
    .sort((a, b) => a.start - b.start);
}
