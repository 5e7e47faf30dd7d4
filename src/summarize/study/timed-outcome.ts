import type { CohortRow } from '../../ingest/tables/cohort.js';
import type { Outcome } from '../../ingest/tables/outcome.js';
import type { OutcomeChoice } from './study-settings.js';

/** What of a row tells when its outcome was assessed. */
export type TimedRow = Pick<CohortRow, 'outcome' | 'assessed' | 'injury'>;

/** Whether an outcome is of the time that was asked for; `none` where there is no outcome. */
export type OutcomeTiming = 'none' | 'inTime' | 'otherTime' | 'unknown';

/** An outcome as a study takes it. */
export interface TimedOutcome {
  /** Null where none is known, or it was assessed at another time. */
  readonly outcome: Outcome | null;
  readonly timing: OutcomeTiming;
}

const DAY_MS = 86_400_000;
/** Mean month of the Gregorian calendar: 146097 days in 4800 months. */
const MONTH_DAYS = 146_097 / 4800;

/** Months from the injury to the assessment of the outcome; null where the table does not say. */
export function monthsAfter({ assessed, injury }: TimedRow): number | null {
  if (!assessed) return null;
  if ('months' in assessed) return assessed.months;
  return injury ? (assessed.utcMs - injury.utcMs) / DAY_MS / MONTH_DAYS : null;
}

/** What months of the calendar differ from so many mean ones: five of them may have 150 days, and their mean is 152. */
const CALENDAR = 3 / MONTH_DAYS;

/**
 * The outcome of a row at the time that a study asks for. Nothing is carried from one time to another, but that who is dead
 * when assessed early was dead later too. Where the table does not say when, the outcome counts and is counted as such.
 */
export function timedOutcome(row: TimedRow, { months, withinMonths }: OutcomeChoice): TimedOutcome {
  const { outcome } = row;
  if (outcome === null) return { outcome, timing: 'none' };
  if (months === null) return { outcome, timing: 'inTime' };
  const after = monthsAfter(row);
  if (after === null) return { outcome, timing: 'unknown' };
  const isDead = outcome.scale === 'mortality' ? outcome.isDead : outcome.value === 1;
  const away = after - months;
  const isInTime = Math.abs(away) <= withinMonths + CALENDAR || (isDead && away < 0);
  return isInTime ? { outcome, timing: 'inTime' } : { outcome: null, timing: 'otherTime' };
}
