import type { CareEntry } from './care.js';
import type { Channel, ChannelKind } from './channel.js';
import type { Interval } from './interval.js';
import { emptySignal, type Signal } from './signal.js';
import type { Waveform } from './waveform.js';

/** One patient's channels over one stay, joined from one or more exports. */
export interface Recording {
  /** The patient's number or name in the exports, as text: `007` stays `007`. */
  readonly id: string;
  readonly channels: Readonly<Partial<Record<ChannelKind, Channel>>>;
  /** What the care log says of the patient, by start; left out where no care log was given. */
  readonly care?: readonly CareEntry[] | undefined;
  /** Left out where no export held a waveform. */
  readonly waveform?: Waveform | undefined;
  /** From the first row to the last. */
  readonly extent: Interval;
}

/** The channel's signal as it came, or the empty signal where the recording lacks the channel. */
export const rawSignal = (recording: Recording, kind: ChannelKind): Signal =>
  recording.channels[kind]?.signal ?? emptySignal;
