import { CHANNEL_NAMES, type Channel, type ChannelKind } from '../../recording/channel.js';
import type { Recording } from '../../recording/recording.js';
import type { Waveform } from '../../recording/waveform.js';
import type { ColumnChoice, ColumnChoices } from '../settings.js';

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

/** What was measured in the waveform of another channel came by its clock. */
const IN_WAVEFORM: Readonly<Partial<Record<ChannelKind, ChannelKind>>> = {
  icpPulse: 'icp',
  abpPulse: 'map',
  sbp: 'map',
  dbp: 'map',
};

/** What is said of a patient: a number is for all of them. */
function shiftFor(patient: string, shiftSeconds: ColumnChoice['shiftSeconds']): number | undefined {
  if (typeof shiftSeconds !== 'object') return shiftSeconds;
  return Object.hasOwn(shiftSeconds, patient) ? shiftSeconds[patient] : undefined;
}

function shiftOf({ kind, derivedFrom }: Channel, columns: ColumnChoices, patient: string): number {
  const said = (of: ChannelKind | undefined): number | undefined =>
    of === undefined || of === 'icpPulse' || of === 'abpPulse'
      ? undefined
      : shiftFor(patient, columns[of]?.shiftSeconds);
  return said(kind) ?? (derivedFrom === null ? undefined : said(IN_WAVEFORM[kind])) ?? 0;
}

/** Marks of waveforms, moved where their channels were. */
const movedMarks = (waveform: Waveform, shiftMs: (kind: ChannelKind) => number): Waveform => ({
  ...waveform,
  marks: waveform.marks.map((mark) => {
    const ms = shiftMs(mark.channel);
    return { ...mark, start: mark.start + ms, end: mark.end + ms };
  }),
});

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
  const shifts = new Map<ChannelKind, number>();
  let { start, end } = recording.extent;
  for (const channel of Object.values(recording.channels)) {
    const { kind } = channel;
    const shiftSeconds = shiftOf(channel, columns, recording.id);
    if (shiftSeconds === 0 || !isMeant(kind)) continue;
    const shifted = moved(channel, shiftSeconds * 1000);
    shifts.set(kind, shiftSeconds * 1000);
    channels[kind] = shifted;
    const { times } = shifted.signal;
    if (times.length === 0) continue;
    start = Math.min(start, times[0]);
    end = Math.max(end, times[times.length - 1]);
  }
  const { waveform } = recording;
  return {
    ...recording,
    ...(waveform && { waveform: movedMarks(waveform, (kind) => shifts.get(kind) ?? 0) }),
    channels,
    extent: { start, end },
  };
}

/** What somebody should know of channels whose times were moved, a sentence each. */
export const shiftWarnings = ({ channels }: Recording): string[] =>
  Object.values(channels).flatMap(({ kind, derivedFrom, shiftSeconds = 0 }) =>
    shiftSeconds === 0 || (derivedFrom !== null && IN_WAVEFORM[kind])
      ? []
      : [
          `The times of ${CHANNEL_NAMES[kind]} were moved by ${Math.abs(shiftSeconds)} s, to ${shiftSeconds > 0 ? 'later' : 'earlier'} ones, as the pipeline file says.`,
        ],
  );
