import type { RecordingRow } from '../measure/rows.js';
import { LEAST_DOSE_MMHG_HOURS } from '../settings.js';
import { quantile } from './quantile.js';

/** Errors over recordings: median, 90th percentile, largest; null of none. */
export interface Spread {
  readonly median: number | null;
  readonly p90: number | null;
  readonly max: number | null;
}

/** Of the recordings of one sort. */
export interface DoseErrors {
  readonly recordings: number;
  readonly raw: Spread;
  readonly cleaned: Spread;
  readonly trusted: Spread;
  readonly ideal: Spread;
  /** The headline against perfect cleaning instead of against the truth: what the rules alone add. */
  readonly cleanedToIdeal: Spread;
}

export interface DoseSummary {
  /** Recordings with a true dose of 1 mmHg.h or more: |error| of dose a monitored hour as a share of the true one. */
  readonly high: DoseErrors;
  /** The others: |error| in mmHg (mmHg.h a monitored hour). */
  readonly low: DoseErrors;
}

const spread = (errors: readonly number[]): Spread => ({
  median: quantile(errors, 0.5),
  p90: quantile(errors, 0.9),
  max: quantile(errors, 1),
});

/** Dose a monitored hour, mmHg; a recording without known time has none, and counts as 0. */
const aHour = (doseMmHgHours: number, hours: number): number => (hours > 0 ? doseMmHgHours / hours : 0);

type Reading = (row: RecordingRow) => number;
const TRUE: Reading = (row) => aHour(row.trueDoseMmHgHours, row.trueHours);
const RAW: Reading = (row) => aHour(row.rawDoseMmHgHours, row.rawHours);
const CLEANED: Reading = (row) => aHour(row.cleanedDoseMmHgHours, row.cleanedHours);
const TRUSTED: Reading = (row) => aHour(row.trustedDoseMmHgHours, row.trustedHours);
const IDEAL: Reading = (row) => aHour(row.idealDoseMmHgHours, row.idealHours);

/** Errors of each reading; shares are of the true dose whatever it is held against. */
function errorsOf(rows: readonly RecordingRow[], isShare: boolean): DoseErrors {
  const error = (reading: Reading, against: Reading = TRUE): Spread =>
    spread(rows.map((row) => Math.abs(reading(row) - against(row)) / (isShare ? TRUE(row) : 1)));
  return {
    recordings: rows.length,
    raw: error(RAW),
    cleaned: error(CLEANED),
    trusted: error(TRUSTED),
    ideal: error(IDEAL),
    cleanedToIdeal: error(CLEANED, IDEAL),
  };
}

/** Error of dose a monitored hour, where the true dose is high as a share and elsewhere in mmHg. */
export function doseSummary(rows: readonly RecordingRow[]): DoseSummary {
  const isHigh = (row: RecordingRow): boolean => row.trueDoseMmHgHours >= LEAST_DOSE_MMHG_HOURS;
  return {
    high: errorsOf(rows.filter(isHigh), true),
    low: errorsOf(
      rows.filter((row) => !isHigh(row)),
      false,
    ),
  };
}
