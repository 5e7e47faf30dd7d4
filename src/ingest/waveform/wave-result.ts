import type { WaveformMark, WaveKind } from '../../recording/waveform.js';
import type { Lost } from './lost-time.js';
import type { Pulse } from './pulses.js';
import type { Ranges } from './wave-channel.js';

/** What the waveforms of one file showed beside the means of their seconds. */
export interface WaveResult {
  readonly file: string;
  /** Of its first rows. */
  readonly samplesPerSecond: number;
  /** Where the rows came at another rate from then on, local time. */
  readonly changes: readonly { readonly time: string; readonly perSecond: number }[];
  /** Channels that were waveforms. */
  readonly kinds: readonly WaveKind[];
  readonly marks: readonly WaveformMark[];
  readonly pulses: readonly Pulse[];
  /** Of the arterial pressure, second by second. */
  readonly ranges: Ranges;
  /** Rows that were set aside by the minute. */
  readonly lost: Lost;
  /** Local time of a first row in the hour that the clock shows twice, whose pass nothing tells. */
  readonly doubtful: string | null;
}
