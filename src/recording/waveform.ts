import type { Interval } from './interval.js';

/** A pressure that may come as a waveform; `map` is what the mean of an arterial waveform becomes. */
export type WaveKind = 'icp' | 'icpDrain' | 'map';

/**
 * Samples a second that the rules of waveforms and the highest and lowest values of a pulse need, and that the amplitude
 * of its fundamental needs; times in whole milliseconds make a little less of 40 and 25. At 25 a second what is mistaken
 * for a line up to 3.3 Hz lies at 21.7 Hz or more, the seventh harmonic of the fastest heart; at 10 it may be its third
 * one. Common practice, no source.
 */
export const RULES_PER_SECOND = 39.5;
export const PULSES_PER_SECOND = 24.5;

/** Artifact that was seen at waveform resolution. Both ends are starts of whole seconds, which samples of the means stand at. */
export interface WaveformMark extends Interval {
  readonly channel: WaveKind;
  /** Name of the cleaning rule that saw it. */
  readonly rule: string;
  /** Which way the means of these seconds are wrong; left out where they do not measure the patient at all. */
  readonly direction?: 'down' | 'up' | undefined;
}

/** What is known of the waveforms of which a recording holds the means; left out where the exports held none. */
export interface Waveform {
  /** Samples a second of the finest file. */
  readonly samplesPerSecond: number;
  /** By start, for each channel and rule without overlaps; only rules that were on while the files were read. */
  readonly marks: readonly WaveformMark[];
}

/** What a watcher has to say of a stretch. */
export interface Sighting {
  /** From the first sample to the last, milliseconds UTC; whole seconds are made of them. */
  readonly from: number;
  readonly to: number;
  readonly direction?: 'down' | 'up' | undefined;
  /** True where the values stood still: they were shown so, and their range may be used. */
  readonly isStill?: boolean | undefined;
}

/**
 * Looks at each sample of a waveform once, while the file is read: what it keeps must not grow with the file but by what
 * it finds. What it says must not hang on where one block ends and the next begins.
 */
export interface Watcher {
  /** The next samples, each later than the one before and without a hole; both lists hold `count` numbers or more. */
  take(times: Float64Array, values: Float64Array, count: number): void;
  /** A hole: what comes does not follow what came. */
  part(): void;
  /** No more samples come. */
  finish(): void;
}

/** The channel that is watched. */
export interface WatchedChannel {
  readonly kind: WaveKind;
  readonly intervalMs: number;
}

/** Makes the watchers of a channel; each tells under its rule what it finds, at once or when it is finished. */
export type Watch = (
  channel: WatchedChannel,
  tell: (rule: string, sighting: Sighting) => void,
) => readonly Watcher[];
