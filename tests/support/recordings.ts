import type { Channel, ChannelKind } from '../../src/recording/channel.js';
import type { Interval } from '../../src/recording/interval.js';
import { wholeOf } from '../../src/recording/pieces.js';
import type { Recording } from '../../src/recording/recording.js';
import { nominalIntervalMs } from '../../src/recording/sampling.js';
import type { Signal } from '../../src/recording/signal.js';

/** A channel as ingest would hand it over. */
export const channelOf = (kind: ChannelKind, signal: Signal, blanks: readonly Interval[] = []): Channel => ({
  kind,
  header: `${kind} (mmHg)`,
  source: null,
  derivedFrom: null,
  signal,
  nominalIntervalMs: nominalIntervalMs(signal.times),
  decimals: 1,
  blanks,
});

/** A recording of hand-made signals, from the first sample of any of them to the last. */
export function recordingOf(
  signals: Readonly<Partial<Record<ChannelKind, Signal>>>,
  blanks: Readonly<Partial<Record<ChannelKind, readonly Interval[]>>> = {},
): Recording {
  const kinds = Object.keys(signals) as ChannelKind[];
  const wholes = kinds.map((kind) => wholeOf(signals[kind]!));
  return {
    id: '007',
    channels: Object.fromEntries(kinds.map((kind) => [kind, channelOf(kind, signals[kind]!, blanks[kind])])),
    extent: {
      start: Math.min(...wholes.map(({ start }) => start)),
      end: Math.max(...wholes.map(({ end }) => end)),
    },
  };
}

/** The same recording whose ICP was read through the drain. */
export function readThroughDrain(recording: Recording): Recording {
  const { icp } = recording.channels;
  return {
    ...recording,
    channels: { ...recording.channels, ...(icp && { icp: { ...icp, source: 'drain' } }) },
  };
}
