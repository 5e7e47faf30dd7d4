import type { CohortRow } from '../../ingest/tables/cohort.js';
import type { Moment } from '../../ingest/tables/describe.js';
import type { Interval } from '../../recording/interval.js';
import { HOUR_MS } from '../hour.js';
import { END_WORDS, earliestEnd, type StudyEnd, undated } from './study-end.js';

const DAY_MS = 24 * HOUR_MS;
/** First hours of monitoring that make the primary window. Own convention. */
export const PRIMARY_HOURS = 72;

/** Who is monitored so late has another injury, or another year in the table. Own convention. */
const LATE_DAYS = 30;

/** What a study asks of windows. */
export interface WindowSettings {
  readonly primaryHours: number;
}

/** What of a row windows rest on. */
export type WindowRow = Pick<
  CohortRow,
  'injury' | 'monitoringFrom' | 'monitoringTo' | 'withdrawn' | 'brainDeath' | 'death'
>;

/** A window of a study. */
export interface StudyWindow extends Interval {
  /** What it ends by: its full length, or whatever cuts it. */
  readonly endsBy: 'length' | StudyEnd['kind'];
}

/** A day since injury, from 1 on: day 1 is the first 24 h. */
export interface InjuryDay extends StudyWindow {
  readonly day: number;
}

/** Why there is no such window. */
export interface NoWindow {
  readonly reason: string;
}

/** The windows of one patient, ends in milliseconds UTC. */
export interface StudyWindows {
  readonly primary: StudyWindow | NoWindow;
  /** From the start of monitoring to its end. */
  readonly stay: StudyWindow | NoWindow;
  readonly days: readonly InjuryDay[] | NoWindow;
  /** What cut them, where the table says less than they need, or where it and the exports disagree. */
  readonly remarks: readonly string[];
}

/** When monitoring begins: as the table says, or with the first ICP of the exports, on the day that the table names. */
function startOf(icp: Interval, from: Moment | null, remarks: string[]): number {
  if (!from) return icp.start;
  if (from.isDay) {
    remarks.push(
      'the table gives the beginning of monitoring without a time of day: counted from the first ICP on that day or later',
    );
    return Math.max(icp.start, from.utcMs);
  }
  if (from.utcMs < icp.start - HOUR_MS) {
    remarks.push('monitoring began more than an hour before the first ICP of the exports');
  }
  if (from.utcMs > icp.start + HOUR_MS) {
    remarks.push(
      'over an hour of ICP lies before the beginning of monitoring that the table gives, and does not count',
    );
  }
  return from.utcMs;
}

/** Days since injury inside the stay. */
function injuryDays(stay: StudyWindow, injury: Moment | null): readonly InjuryDay[] | NoWindow {
  if (!injury) return { reason: 'the time of the injury is not known' };
  if (injury.isDay) return { reason: 'the injury has a date without a time of day' };
  if (injury.utcMs > stay.start) return { reason: 'monitoring begins before the injury' };
  const days: InjuryDay[] = [];
  const first = Math.floor((stay.start - injury.utcMs) / DAY_MS);
  for (let k = first; injury.utcMs + k * DAY_MS < stay.end; k++) {
    const end = injury.utcMs + (k + 1) * DAY_MS;
    days.push({
      day: k + 1,
      start: Math.max(stay.start, injury.utcMs + k * DAY_MS),
      end: Math.min(stay.end, end),
      endsBy: end <= stay.end ? 'length' : stay.endsBy,
    });
  }
  return days;
}

/**
 * The windows of a patient: the first hours of monitoring, the whole stay, and days since injury, which are 24-h days counted
 * from the instant of the injury. All stop at the earliest of withdrawal of treatment, brain death and death, at the end of
 * monitoring that the table gives, and with the last ICP of the exports: pressures behind a withdrawal tell how a patient
 * dies, and would make burden go with outcome in any cohort. Windows: own convention.
 *
 * @param icp from the first sample of ICP to the last; null where there is none
 * @param row null for a patient who is not in the table
 */
export function studyWindows(
  icp: Interval | null,
  row: WindowRow | null,
  { primaryHours }: WindowSettings = { primaryHours: PRIMARY_HOURS },
): StudyWindows {
  if (!icp || icp.start >= icp.end) return without('the exports hold no ICP', []);
  const remarks = row ? undated(row) : ['the patient is not in the table: nothing says where to stop'];
  const start = startOf(icp, row?.monitoringFrom ?? null, remarks);
  if (row?.injury && start - row.injury.utcMs > LATE_DAYS * DAY_MS) {
    remarks.push(`monitoring begins more than ${LATE_DAYS} days after the injury that the table gives`);
  }
  const stop = earliestEnd(icp.end, row);
  if (stop.remark !== null) remarks.push(stop.remark);
  if (stop.at <= start) {
    const reason =
      stop.kind === 'data'
        ? 'monitoring begins behind the last ICP'
        : `${END_WORDS[stop.kind]} before the first ICP that could count`;
    return without(reason, remarks);
  }
  const stay: StudyWindow = { start, end: stop.at, endsBy: stop.kind };
  const full = start + primaryHours * HOUR_MS;
  return {
    stay,
    primary: full <= stop.at ? { start, end: full, endsBy: 'length' } : stay,
    days: injuryDays(stay, row?.injury ?? null),
    remarks,
  };
}

const without = (reason: string, remarks: readonly string[]): StudyWindows => ({
  primary: { reason },
  stay: { reason },
  days: { reason },
  remarks,
});
