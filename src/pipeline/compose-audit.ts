import { rowsIn, type SetAsideKind } from '../ingest/rows/set-aside.js';
import type { ZoneClock } from '../recording/zone.js';
import { auditResult } from '../report/audit/audit-result.js';
import type { AuditResult } from '../report/results-audit.js';
import { byPatientId } from '../report/words.js';
import type { UnitAuditInput } from '../summarize/alarms/audit-settings.js';
import type { PatientAudit } from '../summarize/alarms/patient-audit.js';
import type { ReportPeriod } from '../summarize/period.js';
import type { LogAccount } from './log-file.js';
import { pseudonymsOf } from './pseudonyms.js';
import type { Logs } from './read-logs.js';
import type { KeptPart } from './report-group.js';
import type { Settings } from './settings.js';

/** The audit of a unit, and who is who in it. */
export interface ComposedAudit {
  readonly report: 'audit';
  readonly result: AuditResult;
  /** With the ids under which patients appear. */
  readonly input: UnitAuditInput;
  /** Patients as they appear, in their order. */
  readonly order: readonly string[];
  /** The name under which a patient appears. */
  readonly nameOf: (id: string) => string;
  /** Pseudonym and patient, by pseudonym; null where patients appear under their numbers. */
  readonly key: readonly (readonly [pseudonym: string, patient: string])[] | null;
}

/** Why rows of an alarm log are set aside, in words that name nobody. */
const ASIDE: Readonly<Record<SetAsideKind, string>> = {
  cells: 'another number of cells than the header has',
  unreadable: 'a cell that cannot be read, or is missing',
  repeat: 'the same line stands already',
  conflict: 'cells that contradict each other',
  clock: 'a time that does not exist, since clocks went forward over it',
  order: 'acknowledged or ended before the onset',
  sparse: 'too few rows in their second',
  unused: 'nobody can say whose alarm it is: the bed is empty, unknown or contested then',
  footer: 'a line behind the data',
  failed: 'the log failed',
};

/** How many rows of the alarm logs were set aside, by the kind of reason: the reasons themselves name beds and patients. */
function asideByKind(accounts: readonly LogAccount[]): Map<SetAsideKind, number> {
  const byKind = new Map<SetAsideKind, number>();
  for (const entry of accounts.flatMap(({ setAside }) => setAside)) {
    byKind.set(entry.kind, (byKind.get(entry.kind) ?? 0) + rowsIn([entry]));
  }
  return byKind;
}

/** Alarms of patients of whom there is no recording. */
function alarmsWithoutRecording({ alarms }: Logs, audits: readonly PatientAudit[]): number {
  const known = new Set(audits.map(({ id }) => id));
  return [...(alarms ?? [])].reduce((sum, [id, list]) => sum + (known.has(id) ? 0 : list.length), 0);
}

/** Stands where an alarm named no parameter that is known, in words that stand with one patient alone. */
const OF_ONE = 'words of one patient alone';

/**
 * The same audits without what alarms that were not judged had for a parameter where it stands with one patient alone: it
 * may be a message with a name in it. The log has it.
 */
function withoutOwnWords(audits: readonly PatientAudit[]): PatientAudit[] {
  const patients = new Map<string, Set<string>>();
  for (const { id, unjudged } of audits) {
    for (const { parameter } of unjudged)
      patients.set(parameter, (patients.get(parameter) ?? new Set()).add(id));
  }
  return audits.map((audit) => ({
    ...audit,
    unjudged: audit.unjudged.map((one) =>
      one.why === 'unknownParameter' && (patients.get(one.parameter)?.size ?? 0) < 2
        ? { ...one, parameter: OF_ONE }
        : one,
    ),
  }));
}

/** Puts the audits of all patients together; null where the report is none. */
export function composeAudit(
  parts: readonly KeptPart[],
  logs: Logs,
  accounts: readonly LogAccount[],
  period: ReportPeriod,
  settings: Settings,
  clock: ZoneClock,
): ComposedAudit | null {
  const { audit, summarize, expected } = settings;
  if (audit === null) return null;
  const audits = parts.flatMap((part) => (part.audit ? [part.audit] : []));
  const pseudonyms = audit.hasPseudonyms ? pseudonymsOf([...parts.map(({ id }) => id), ...expected]) : null;
  const nameOf = (id: string): string => pseudonyms?.get(id) ?? id;
  const ofAlarms = accounts.filter(({ kind }) => kind === 'alarms');
  const input: UnitAuditInput = {
    patients: (pseudonyms ? withoutOwnWords(audits) : audits)
      .map((one) => ({ ...one, id: nameOf(one.id) }))
      .sort((a, b) => byPatientId(a.id, b.id)),
    settings: audit,
    clock,
    period,
    night: summarize.night,
    alarmsCover: logs.alarmsCover,
    careCover: logs.careCover,
    hasAcknowledgements: logs.hasAcknowledgements,
  };
  const account = logs.alarms && {
    rowsRead: ofAlarms.reduce((sum, { rowsRead }) => sum + rowsRead, 0),
    setAside: [...asideByKind(ofAlarms)].map(([kind, rows]) => ({ kind, reason: ASIDE[kind], rows })),
    merged: logs.alarmsMerged,
    withoutExport: alarmsWithoutRecording(logs, audits),
  };
  const given = {
    alarms: logs.alarms !== null,
    care: logs.care !== null,
    occupancy: settings.logs.occupancy !== undefined,
    cohort: settings.logs.cohort !== undefined,
  };
  return {
    report: 'audit',
    result: auditResult(input, {
      account,
      given,
      rules: summarize,
      movedSeconds: {
        alarms: settings.logs.alarms?.shiftSeconds ?? 0,
        care: settings.logs.care?.shiftSeconds ?? 0,
      },
      notRead: parts.filter(({ problem }) => problem !== null).length,
    }),
    input,
    order: input.patients.map(({ id }) => id),
    nameOf,
    key: pseudonyms && [...pseudonyms].map(([id, pseudonym]) => [pseudonym, id] as const),
  };
}
