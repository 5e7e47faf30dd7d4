import type { UnitAuditInput } from '../../summarize/alarms/audit-settings.js';
import type { AuditResult } from '../results-audit.js';
import { auditAlarmTables } from './audit-alarm-tables.js';
import { auditResponseTables } from './audit-response-tables.js';
import { auditWhatIfTables } from './audit-what-if-tables.js';
import type { TidyTable } from './tidy-table.js';

/** Tables that have a row for a single alarm, episode or patient: small counts could be counted from them. */
export const OF_SINGLE_EVENTS: ReadonlySet<string> = new Set([
  'alarms',
  'unjudged',
  'episodes',
  'hours',
  'monitored',
  'lags',
  'whatifpatients',
  'whatifmissed',
]);

/** The tables of an audit. */
export const auditTables = (input: UnitAuditInput, { response, time, whatIf }: AuditResult): TidyTable[] => [
  ...auditAlarmTables(input),
  ...auditResponseTables(response, time),
  ...(whatIf ? auditWhatIfTables(whatIf, input) : []),
];
