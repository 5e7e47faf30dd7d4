import type { AlarmRow } from './alarm-log.js';

/** A row of an alarm log of which it is known whose it is. */
export type NamedAlarmRow = AlarmRow & { readonly patient: string };

/** An alarm condition of one patient; times in milliseconds since 1970-01-01 UTC. */
export interface LoggedAlarm extends Pick<AlarmRow, 'parameter' | 'limit' | 'side' | 'priority' | 'message'> {
  readonly start: number;
  /** Null where the log gives none. */
  readonly end: number | null;
  /** Null where the log does not say that anybody acknowledged it. */
  readonly acknowledged: number | null;
}

/** The alarms of each patient, by start; rows of one time keep their order. */
export function loggedAlarms(rows: readonly NamedAlarmRow[]): Map<string, LoggedAlarm[]> {
  const byPatient = new Map<string, LoggedAlarm[]>();
  for (const row of rows) {
    const { patient, onsetUtcMs, endedUtcMs, acknowledgedUtcMs } = row;
    const { parameter, limit, side, priority, message } = row;
    const alarms = byPatient.get(patient) ?? [];
    byPatient.set(patient, alarms);
    const times = { start: onsetUtcMs, end: endedUtcMs, acknowledged: acknowledgedUtcMs };
    alarms.push({ ...times, parameter, limit, side, priority, message });
  }
  for (const alarms of byPatient.values()) alarms.sort((a, b) => a.start - b.start);
  return byPatient;
}
