import type { ZoneClock } from '../recording/zone.js';
import type { ReportPeriod } from '../summarize/period.js';
import { type ComposedAudit, composeAudit } from './compose-audit.js';
import { type ComposedStudy, composeStudy } from './compose-study.js';
import type { LogAccount } from './log-file.js';
import type { Logs } from './read-logs.js';
import type { KeptPart } from './report-group.js';
import type { Settings } from './settings.js';

/** A report of the unit alone. */
export type ComposedUnit = ComposedAudit | ComposedStudy;

/** Puts the parts of all patients together to a report of the unit alone; null where the report is of patients. */
export const composeUnit = (
  parts: readonly KeptPart[],
  logs: Logs,
  accounts: readonly LogAccount[],
  period: ReportPeriod,
  settings: Settings,
  clock: ZoneClock,
): ComposedUnit | null =>
  composeAudit(parts, logs, accounts, period, settings, clock) ??
  composeStudy(parts, logs, accounts, settings);
