/** Rows of the tables: what one patient at one sampling adds. Everything on the page is computed from them. */

/** Which patient, rendered how. */
export interface Where {
  readonly seed: number;
  readonly samplingSeconds: number;
}

/**
 * `artifact`: what should be marked, by kind and truth grade. `high`: true seconds over the threshold without a label,
 * by true event, which should not be. `quiet`: all other seconds without a label. A sample stands for its interval.
 */
export interface KindRow extends Where {
  readonly what: 'artifact' | 'high' | 'quiet';
  readonly kind: string;
  /** Truth grade of an artifact; blank otherwise. */
  readonly grade: string;
  /** Artifacts; those that hold a sample; those of which at least half of the samples are marked so. */
  readonly events: number;
  readonly eventsHolding: number;
  readonly eventsRemoved: number;
  readonly eventsSuspect: number;
  readonly eventsEither: number;
  readonly seconds: number;
  readonly secondsRemoved: number;
  /** Suspect and not removed. */
  readonly secondsSuspect: number;
  /** The longest that went wrong, seconds after the start of the recording, and for how long; blank for none. */
  readonly worstAtSecond: number | null;
  readonly worstSeconds: number | null;
  /** By which rule, for true seconds that were marked. */
  readonly worstRule: string;
}

/** Doses and episodes of one rendering. */
export interface RecordingRow extends Where {
  readonly resolutionMmHg: number;
  readonly days: number;
  readonly trueHours: number;
  readonly trueDoseMmHgHours: number;
  readonly rawHours: number;
  readonly rawDoseMmHgHours: number;
  /** The headline: removed and downward suspect stretches out. */
  readonly cleanedHours: number;
  readonly cleanedDoseMmHgHours: number;
  /** Everything that is marked left out. */
  readonly trustedHours: number;
  readonly trustedDoseMmHgHours: number;
  /** Exactly the labelled samples left out: perfect cleaning. */
  readonly idealHours: number;
  readonly idealDoseMmHgHours: number;
  readonly trueEpisodes: number;
  /** Of the true ones those that are long and high enough that none may be missed. */
  readonly plainEpisodes: number;
  readonly missed: number;
  readonly missedBorderline: number;
  /** Plain ones that even perfect cleaning misses. */
  readonly missedByIdeal: number;
  readonly foundEpisodes: number;
  readonly invented: number;
  readonly inventedHatched: number;
  readonly inventedBorderline: number;
}

/** A true episode that was missed, or a found one that is none. */
export interface EpisodeRow extends Where {
  readonly state: 'missed' | 'missedBorderline' | 'invented' | 'inventedHatched' | 'inventedBorderline';
  readonly startSecond: number;
  readonly minutes: number;
  readonly meanMmHg: number;
  /** What lies there in truth, the longest first. */
  readonly truth: string;
  /** The rule that marked most of it, or blank. */
  readonly rule: string;
}

/** Artifacts of a kind that stay in the headline, and what they add to its dose. */
export interface ExcessRow extends Where {
  readonly kind: string;
  /** 1 where the samples are marked as suspect, 0 where nothing marks them. */
  readonly isHatched: number;
  readonly secondsKept: number;
  /** Dose above the threshold as shown minus that of the truth over the same samples. */
  readonly excessMmHgHours: number;
}

/** What one rule marked on a channel; each second counts for the first rule, removed before suspect. */
export interface RuleRow extends Where {
  readonly channel: string;
  readonly rule: string;
  readonly grade: string;
  readonly marks: number;
  readonly secondsLabelled: number;
  readonly secondsHigh: number;
  readonly secondsQuiet: number;
}

export interface Rows {
  readonly kinds: readonly KindRow[];
  readonly recordings: readonly RecordingRow[];
  readonly episodes: readonly EpisodeRow[];
  readonly rules: readonly RuleRow[];
  readonly excess: readonly ExcessRow[];
}

export const joinRows = (parts: readonly Rows[]): Rows => ({
  kinds: parts.flatMap((part) => part.kinds),
  recordings: parts.flatMap((part) => part.recordings),
  episodes: parts.flatMap((part) => part.episodes),
  rules: parts.flatMap((part) => part.rules),
  excess: parts.flatMap((part) => part.excess),
});
