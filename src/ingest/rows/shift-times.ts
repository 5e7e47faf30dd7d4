import { CHANNEL_NAMES, type Channel, type ChannelKind } from '../../recording/channel.js';
import type { Recording } from '../../recording/recording.js';
import type { ColumnChoices } from '../settings.js';

/** A channel with all its times moved by so many milliseconds. */
function moved(channel: Channel, shiftMs: number): Channel {
  const { signal, blanks } = channel;
  return {
    ...channel,
    signal: { ...signal, times: signal.times.map((t) => t + shiftMs) },
    blanks: blanks.map(({ start, end }) => ({ start: start + shiftMs, end: end + shiftMs })),
    shiftSeconds: (channel.shiftSeconds ?? 0) + shiftMs / 1000,
  };
}

/**
 * The recording with the times of channels moved as the pipeline file says, since they came from a device whose clock is
 * apart. The extent grows where a channel reaches over it now.
 *
 * @param isMeant which channels are to be looked at
 */
export function withShifts(
  recording: Recording,
  columns: ColumnChoices,
  isMeant: (kind: ChannelKind) => boolean = () => true,
): Recording {
  const channels: Partial<Record<ChannelKind, Channel>> = { ...recording.channels };
  let { start, end } = recording.extent;
  for (const channel of Object.values(recording.channels)) {
    const { kind } = channel;
    const shiftSeconds = columns[kind]?.shiftSeconds ?? 0;
    if (shiftSeconds === 0 || !isMeant(kind)) continue;
    const shifted = moved(channel, shiftSeconds * 1000);
    channels[kind] = shifted;
    const { times } = shifted.signal;
    if (times.length === 0) continue;
    start = Math.min(start, times[0]);
    end = Math.max(end, times[times.length - 1]);
  }
  return { ...recording, channels, extent: { start, end } };
}

/** What somebody should know of channels whose times were moved, a sentence each. */
export const shiftWarnings = ({ channels }: Recording): string[] =>
  Object.values(channels).flatMap(({ kind, shiftSeconds = 0 }) =>
    shiftSeconds === 0
      ? []
      : [
          `The times of ${CHANNEL_NAMES[kind]} were moved by ${Math.abs(shiftSeconds)} s, to ${shiftSeconds > 0 ? 'later' : 'earlier'} ones, as the pipeline file says.`,
        ],
  );
