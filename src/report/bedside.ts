import type { Interval } from '../recording/interval.js';

/** An alarm as a log tells it; times in milliseconds UTC. */
export interface BedsideAlarm {
  readonly start: number;
  /** Null where the log does not say when it ended. */
  readonly end: number | null;
  /** Null where the log does not say that anybody acknowledged it. */
  readonly acknowledged: number | null;
  /** What it was about, in few words: `ICP above 22 mmHg`; may hold words of the log as they were written. */
  readonly text: string;
}

/** What was done at the bed as the care log tells it; times in milliseconds UTC. */
export interface BedsideEntry {
  readonly start: number;
  /** Null where the log gives none. */
  readonly end: number | null;
  readonly isTreatment: boolean;
  /** As it was written. */
  readonly text: string;
}

/** The drain from logged open to logged closed; times in milliseconds UTC. */
export interface BedsideDrain extends Interval {
  /** False where the log never closes it: then it ends with the recording, for want of a better time. */
  readonly isClosed: boolean;
}

/** What logs say of one patient's bedside, by start. */
export interface Bedside {
  /** Null where no alarm log was given. */
  readonly alarms: readonly BedsideAlarm[] | null;
  /** Null where no care log was given. */
  readonly entries: readonly BedsideEntry[] | null;
  readonly drainOpen: readonly BedsideDrain[];
}
