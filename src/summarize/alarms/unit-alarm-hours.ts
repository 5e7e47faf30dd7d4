import type { Estimate } from '../statistics/estimate.js';
import type { UnitAuditInput } from './audit-settings.js';
import { alarmsOf, coveredHours, monitoredDays } from './monitored-days.js';
import type { AuditChannel } from './patient-audit.js';
import { ratioOverPatients } from './ratio-over-patients.js';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
/** 1 January 1970 was a Thursday; Monday is 0. */
const FIRST_WEEKDAY = 3;

/** Alarms in an hour of the day, or on a day of the week. */
export interface AlarmTimes {
  readonly alarms: number;
  /** Patient-days over which the channel was monitored in it, as exported, while the log reaches. */
  readonly monitoredDays: number;
  /** Alarms a monitored patient-day. */
  readonly perDay: Estimate;
}

/** Alarms of a channel by the clock on the wall. */
export interface UnitAlarmHours {
  /** 0 to 23. */
  readonly byHour: readonly AlarmTimes[];
  /** Monday first. */
  readonly byWeekday: readonly AlarmTimes[];
}

export const hourOfDay = (localMs: number): number =>
  Math.floor((((localMs % DAY_MS) + DAY_MS) % DAY_MS) / HOUR_MS);

export const weekday = (localMs: number): number =>
  (((Math.floor(localMs / DAY_MS) + FIRST_WEEKDAY) % 7) + 7) % 7;

/**
 * Alarms of a channel by hour of the day and by day of the week, against the time that was monitored in each: an hour in
 * which more patients are monitored has more alarms, and no higher rate.
 */
export function unitAlarmHours(input: UnitAuditInput, channel: AuditChannel): UnitAlarmHours {
  const { patients, alarmsCover, clock } = input;
  const each = patients.map((patient) => ({
    onsets: alarmsOf(patient, channel).map(({ onset }) => clock.toLocal(onset)),
    hours: coveredHours(patient.hours, alarmsCover).map((hour) => ({
      hour,
      local: clock.toLocal(hour.start),
    })),
  }));
  const by = (bins: number, binOf: (localMs: number) => number): AlarmTimes[] =>
    Array.from({ length: bins }, (_, bin) => {
      const portions = each
        .map(({ onsets, hours }) => ({
          part: onsets.filter((local) => binOf(local) === bin).length,
          whole: monitoredDays(
            hours.filter(({ local }) => binOf(local) === bin).map(({ hour }) => hour),
            channel,
          ),
        }))
        .filter(({ part, whole }) => part > 0 || whole > 0);
      return {
        alarms: portions.reduce((sum, { part }) => sum + part, 0),
        monitoredDays: portions.reduce((sum, { whole }) => sum + whole, 0),
        perDay: ratioOverPatients(portions),
      };
    });
  return { byHour: by(24, hourOfDay), byWeekday: by(7, weekday) };
}
