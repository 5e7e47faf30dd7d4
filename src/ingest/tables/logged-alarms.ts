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

/** An alarm as it is put together, and the file that told it last. */
interface Told {
  file: string;
  alarm: LoggedAlarm;
}

/** No patient has more alarms of one onset, limit and words; a file of nothing else must not take hours. */
const MOST_ALIKE = 16;

/** True where neither time says that the two are different alarms. */
const agree = (a: number | null, b: number | null): boolean => a === null || b === null || a === b;

/**
 * The alarms of each patient, by start; rows of one time keep their order. Where exports of a log overlap in time, an
 * alarm that was still open in one file and was acknowledged or over in another is one alarm.
 */
export function loggedAlarms(rows: readonly NamedAlarmRow[]): Map<string, LoggedAlarm[]> {
  const byPatient = new Map<string, Told[]>();
  const alike = new Map<string, Told[]>();
  for (const row of rows) {
    const { patient, file, onsetUtcMs, endedUtcMs, acknowledgedUtcMs } = row;
    const { parameter, limit, side, priority, message } = row;
    const key = JSON.stringify([patient, onsetUtcMs, parameter, limit, side, priority, message]);
    const earlier = alike.get(key) ?? [];
    const same = earlier.find(
      (one) =>
        one.file !== file &&
        agree(one.alarm.end, endedUtcMs) &&
        agree(one.alarm.acknowledged, acknowledgedUtcMs),
    );
    if (same) {
      const { end, acknowledged } = same.alarm;
      same.file = file;
      same.alarm = {
        ...same.alarm,
        end: end ?? endedUtcMs,
        acknowledged: acknowledged ?? acknowledgedUtcMs,
      };
      continue;
    }
    const times = { start: onsetUtcMs, end: endedUtcMs, acknowledged: acknowledgedUtcMs };
    const told = { file, alarm: { ...times, parameter, limit, side, priority, message } };
    alike.set(key, earlier);
    if (earlier.length < MOST_ALIKE) earlier.push(told);
    const ofPatient = byPatient.get(patient);
    if (ofPatient) ofPatient.push(told);
    else byPatient.set(patient, [told]);
  }
  return new Map(
    Array.from(byPatient, ([patient, told]): [string, LoggedAlarm[]] => [
      patient,
      told.map(({ alarm }) => alarm).sort((a, b) => a.start - b.start),
    ]),
  );
}
