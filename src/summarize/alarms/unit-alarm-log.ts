import type { UnitAuditInput } from './audit-settings.js';
import { AUDIT_CHANNELS, type AuditChannel, type UnjudgedAlarm } from './patient-audit.js';

/** What reading the alarm log made of its rows before any alarm came to a patient. */
export interface AlarmLogAccount {
  readonly rowsRead: number;
  /** Rows that were not used, by kind and reason. */
  readonly setAside: readonly { readonly kind: string; readonly reason: string; readonly rows: number }[];
  /** Rows that told of an alarm which another file had told of. */
  readonly merged: number;
  /** Alarms of patients of whom there is no export. */
  readonly withoutExport: number;
}

/** Where each row of the alarm log went. */
export interface AlarmLogSum extends AlarmLogAccount {
  readonly judged: readonly { readonly channel: AuditChannel; readonly alarms: number }[];
  /** By reason and parameter, the most first within a reason. */
  readonly unjudged: readonly {
    readonly why: UnjudgedAlarm['why'];
    readonly parameter: string;
    readonly alarms: number;
  }[];
  /** Rows read less all that is said of them: 0 where the account adds up. */
  readonly unaccounted: number;
}

/** Why an alarm was not judged, in the order of a report. */
export const UNJUDGED = ['otherChannel', 'unknownParameter', 'outside', 'notInPeriod'] as const;

/** The account of the alarm log with what came of its alarms. */
export function alarmLogSum({ patients }: UnitAuditInput, account: AlarmLogAccount): AlarmLogSum {
  const judged = AUDIT_CHANNELS.map((channel) => ({
    channel,
    alarms: patients.reduce(
      (sum, { alarms }) => sum + alarms.filter((alarm) => alarm.channel === channel).length,
      0,
    ),
  }));
  const unjudged = UNJUDGED.flatMap((why) => {
    const counts = new Map<string, number>();
    for (const patient of patients) {
      for (const alarm of patient.unjudged) {
        if (alarm.why === why) counts.set(alarm.parameter, (counts.get(alarm.parameter) ?? 0) + 1);
      }
    }
    return [...counts]
      .map(([parameter, alarms]) => ({ why, parameter, alarms }))
      .sort((a, b) => b.alarms - a.alarms || (a.parameter < b.parameter ? -1 : 1));
  });
  const told =
    account.setAside.reduce((sum, { rows }) => sum + rows, 0) +
    account.merged +
    account.withoutExport +
    [...judged, ...unjudged].reduce((sum, { alarms }) => sum + alarms, 0);
  return { ...account, judged, unjudged, unaccounted: account.rowsRead - told };
}
