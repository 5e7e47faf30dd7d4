import type { Moment } from '../../ingest/tables/describe.js';
import type { ZoneClock } from '../../recording/zone.js';

/** How times stand in a shared set: seconds since the start of monitoring, or local times moved by whole days. */
export const TIMES_MODES = ['elapsed', 'shifted'] as const;
export type TimesMode = (typeof TIMES_MODES)[number];

const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;

/** How the times of one patient are written; a shared instant is the true one plus `addMs`. */
export interface PatientTimes {
  readonly mode: TimesMode;
  /** Start of monitoring: the first row, or what the cohort table says; milliseconds UTC. */
  readonly startUtcMs: number;
  readonly addMs: number;
  /** Days by which dates are moved, to later ones where positive; null where times are elapsed. */
  readonly shiftDays: number | null;
}

/**
 * Times since the whole minute in which monitoring began. The minute, and not the row, since means and windows stand on
 * whole UTC minutes and tens of seconds, and so stay the same.
 */
export const elapsedTimes = (startUtcMs: number): PatientTimes => ({
  mode: 'elapsed',
  startUtcMs,
  addMs: -Math.floor(startUtcMs / MINUTE_MS) * MINUTE_MS,
  shiftDays: null,
});

/**
 * Local times moved by whole days, so that the time of day stays. All of a patient's times move by the same amount, with
 * the clock's offset at the start of monitoring: where clocks were changed later, the time of day is an hour off from
 * there on, and no duration is.
 */
export const shiftedTimes = (startUtcMs: number, shiftDays: number, clock: ZoneClock): PatientTimes => ({
  mode: 'shifted',
  startUtcMs,
  addMs: clock.offsetMsAt(startUtcMs) + shiftDays * DAY_MS,
  shiftDays,
});

/** An instant as a shared file has it: `3600.25` seconds, or `2031-02-11 19:00:00` of the moved clock. */
export function sharedTime({ mode, addMs }: PatientTimes, utcMs: number): string {
  const shared = utcMs + addMs;
  if (mode === 'elapsed') return String(Math.round(shared * 1000) / 1e6);
  const digits = new Date(Math.floor(shared)).toISOString().replace('T', ' ').replace('Z', '');
  // Whole milliseconds as a rule; what is finer is written too.
  const finer = Math.round((shared - Math.floor(shared)) * 1000);
  const fraction = `${digits.slice(20)}${finer > 0 ? String(finer).padStart(3, '0') : ''}`.replace(/0+$/, '');
  return `${digits.slice(0, 19)}${fraction === '' ? '' : `.${fraction}`}`;
}

const dayOf = (localMs: number): number => Math.floor(localMs / DAY_MS);

/** Calendar days from the day on which monitoring began to that of a moment: -1 for the day before. */
export const daysFromStart = ({ startUtcMs }: PatientTimes, utcMs: number, clock: ZoneClock): number =>
  dayOf(clock.toLocal(utcMs)) - dayOf(clock.toLocal(startUtcMs));

/** A date without a time of day on the moved calendar: `2031-02-11`. */
export const sharedDay = ({ shiftDays }: PatientTimes, { utcMs }: Moment, clock: ZoneClock): string =>
  new Date((dayOf(clock.toLocal(utcMs)) + (shiftDays ?? 0)) * DAY_MS).toISOString().slice(0, 10);
