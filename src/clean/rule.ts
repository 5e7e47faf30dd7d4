import type { z } from 'zod';
import type { CareKind } from '../recording/care.js';
import type { ChannelKind } from '../recording/channel.js';
import type { Interval } from '../recording/interval.js';
import type { Recording } from '../recording/recording.js';
import type { Sighting, WatchedChannel, Watcher } from '../recording/waveform.js';

/** `removed`: not the patient, the samples become unknown. `suspect`: may be the patient. */
export type Grade = 'removed' | 'suspect';

/** What speaks for a mark beside the shape that the rule looks for. It is never a condition. */
export interface Evidence {
  /** How far MAP rose in the same seconds, mmHg: pressure in the chest raises both. */
  readonly mapRiseMmHg?: number | undefined;
  /** The entry of the care log that tells of it. */
  readonly care?: { readonly kind: CareKind; readonly at: number } | undefined;
  /** The log goes on; the signal came alive again. */
  readonly endedBySignal?: true | undefined;
}

/** A stretch of a channel that a rule took; samples at both ends are inside. */
export interface Mark extends Interval {
  readonly channel: ChannelKind;
  readonly rule: string;
  readonly grade: Grade;
  /** Suspect marks: which way the values would be wrong. Downward ones are left out of headline figures. */
  readonly direction?: 'down' | 'up' | undefined;
  /** Downward, and kept in all the same: a low CPP that may be true must not be left out with a low MAP. */
  readonly isKept?: true | undefined;
  readonly evidence?: Evidence | undefined;
  /** Who decided it, where a person did. */
  readonly decidedBy?: string | undefined;
}

/** What a rule says of a recording. */
export interface Finding {
  readonly marks: readonly Mark[];
  /** Why the rule could not work on a channel that is there; empty where it did. */
  readonly stoodAside: readonly string[];
}

/**
 * One cleaning rule. It sees the whole recording as it came, returns marks, and cannot change a value; each
 * rule works on its own, so that leaving one out is the same as not having its marks.
 */
export interface Rule<Schema extends z.ZodType = z.ZodType> {
  /** The key under `clean` in the pipeline file. */
  readonly name: string;
  /** What it takes, in words for a page. */
  readonly title: string;
  /** Its parameters with defaults; units stand in the names. */
  readonly parameters: Schema;
  find(recording: Recording, parameters: z.infer<Schema>): Finding;
  /** True for a rule that has nothing to look at in a recording without a waveform, and is not named there. */
  readonly needsWaveform?: boolean;
  /** Looks at each sample of a waveform while it is read; what is told comes to `find` as marks of the recording. */
  watch?(channel: WatchedChannel, parameters: z.infer<Schema>, tell: (sighting: Sighting) => void): Watcher;
}

/** Keeps the parameter type of a rule while it goes into a list. */
export const rule = <Schema extends z.ZodType>(definition: Rule<Schema>): Rule<Schema> => definition;

/** The finding of a rule that has nothing to look at. */
export const NOTHING: Finding = { marks: [], stoodAside: [] };
