import type { Channel, ChannelKind } from '../../recording/channel.js';
import type { Recording } from '../../recording/recording.js';
import { maxGapMs, nominalIntervalMs, signalOf } from '../../recording/sampling.js';
import { firstAfter, firstAtOrAfter } from '../../recording/search.js';
import { WINDOW_MS } from './pulse-window.js';
import { SECOND_MS } from './second.js';
import type { WaveResult } from './wave-result.js';

const AMPLITUDE =
  'amplitude of its fundamental at the heart rate, half of peak to peak, over 10 s of the waveform';
/** A window is kept where at least so many of its seconds are in the recording. */
const LEAST_SECONDS = 8;

interface Sample {
  readonly time: number;
  readonly value: number;
}

/** How a channel that is computed is described. */
interface Computed {
  readonly kind: ChannelKind;
  readonly header: string;
  readonly derivedFrom: string;
  readonly decimals: number;
  /** Null: as the samples are spaced. */
  readonly intervalMs: number | null;
}

/** A channel of samples that may stand in any order; of those at one time the first counts. Null where there are none. */
function computed(samples: readonly Sample[], of: Computed): Channel | null {
  const known = samples.filter(({ value }) => !Number.isNaN(value)).sort((a, b) => a.time - b.time);
  const single = known.filter(({ time }, i) => i === 0 || time !== known[i - 1].time);
  if (single.length === 0) return null;
  const times = Float64Array.from(single, ({ time }) => time);
  const nominal = of.intervalMs ?? nominalIntervalMs(times);
  return {
    kind: of.kind,
    header: of.header,
    source: null,
    derivedFrom: of.derivedFrom,
    signal: signalOf(
      times,
      Float64Array.from(single, ({ value }) => value),
      nominal,
    ),
    nominalIntervalMs: nominal,
    decimals: of.decimals,
    blanks: [],
  };
}

/** How many samples a channel has from one time up to another. */
function samplesIn(channel: Channel | undefined, from: number, to: number): number {
  const times = channel?.signal.times ?? new Float64Array(0);
  return firstAtOrAfter(times, to) - firstAtOrAfter(times, from);
}

const isMissing = (channel: Channel | undefined): boolean => !channel || channel.signal.times.length === 0;

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
  const icp = channels.icp ?? channels.icpDrain;
  const { map } = channels;
  const pulses = results.flatMap((result) => result.pulses);
  const windows = (
    channel: Channel | undefined,
    pick: (pulse: (typeof pulses)[number]) => number,
  ): Sample[] =>
    pulses.flatMap((pulse) => {
      const from = pulse.time - WINDOW_MS / 2;
      const isKept = samplesIn(channel, from, from + WINDOW_MS) >= LEAST_SECONDS;
      return isKept ? [{ time: pulse.time, value: pick(pulse) }] : [];
    });
  const ranges = results
    .flatMap((result) => result.ranges)
    .filter(({ time }) => samplesIn(map, time - SECOND_MS, time + 1) === 2);
  const arterial = (kind: 'sbp' | 'dbp', word: string, pick: (range: (typeof ranges)[number]) => number) =>
    map && isWanted(kind) && isMissing(channels[kind])
      ? computed(
          ranges.map((range) => ({ time: range.time, value: pick(range) })),
          {
            kind,
            header: map.header,
            derivedFrom: `${word} value of the arterial waveform in 2 s`,
            decimals: map.decimals,
            intervalMs: null,
          },
        )
      : null;
  const pulseOf = (
    kind: 'icpPulse' | 'abpPulse',
    channel: Channel | undefined,
    pick: (pulse: (typeof pulses)[number]) => number,
  ) =>
    channel
      ? computed(windows(channel, pick), {
          kind,
          header: channel.header,
          derivedFrom: AMPLITUDE,
          decimals: 2,
          intervalMs: WINDOW_MS,
        })
      : null;
  const rateFrom = map ?? icp;
  const hr =
    rateFrom && isWanted('hr') && isMissing(channels.hr)
      ? computed(
          windows(rateFrom, ({ rate }) => rate),
          {
            kind: 'hr',
            header: rateFrom.header,
            derivedFrom: 'strongest frequency of the pulse over 10 s of the waveform',
            decimals: 0,
            intervalMs: WINDOW_MS,
          },
        )
      : null;
  const more = [
    arterial('sbp', 'highest', ({ highest }) => highest),
    arterial('dbp', 'lowest', ({ lowest }) => lowest),
    hr,
    pulseOf('icpPulse', icp, ({ icpMmHg }) => icpMmHg),
    pulseOf('abpPulse', map, ({ abpMmHg }) => abpMmHg),
  ];
  return {
    ...recording,
    channels: {
      ...channels,
      ...Object.fromEntries(more.flatMap((channel) => (channel ? [[channel.kind, channel]] : []))),
    },
    waveform: {
      samplesPerSecond: Math.max(...results.map(({ samplesPerSecond }) => samplesPerSecond)),
      marks: results.flatMap(({ marks }) => marks).sort((a, b) => a.start - b.start),
    },
  };
}

const KNOWN_MS = maxGapMs(SECOND_MS);

/** True where the means of a waveform, at these times, are known: x(t) is drawn between neighbours this close. */
export function isKnownAt(times: Float64Array, time: number): boolean {
  const behind = firstAfter(times, time);
  if (behind > 0 && times[behind - 1] === time) return true;
  return behind > 0 && behind < times.length && times[behind] - times[behind - 1] <= KNOWN_MS;
}
