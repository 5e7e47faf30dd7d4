import type { CohortRow } from '../../ingest/tables/cohort.js';
import { readTable } from '../../ingest/tables/read-table.js';
import type { ZoneClock } from '../../recording/zone.js';
import { type CodedRow, type SharedCohort, sharedCohort } from '../../report/deidentify/shared-cohort.js';
import { sharedDecisions, sharedTargets } from '../../report/deidentify/shared-decisions.js';
import { type Coded, sharedAlarms, sharedCare } from '../../report/deidentify/shared-logs.js';
import type { PatientTimes } from '../../report/deidentify/shared-times.js';
import type { SharedLogAccount, SharingAccount } from '../../report/deidentify/sharing-account.js';
import type { Pipeline } from '../load-pipeline.js';
import { readLogFiles } from '../log-file.js';
import type { LogKind } from '../log-schema.js';
import type { Logs } from '../read-logs.js';
import type { SharedTables } from './shared-pipeline.js';

/** The tables of a set: their files, how they are read again, and what was left out. */
export interface WrittenTables {
  /** By name. */
  readonly files: ReadonlyMap<string, string>;
  readonly tables: SharedTables;
  readonly account: Pick<SharingAccount, 'care' | 'alarms' | 'decisions' | 'targets' | 'cohort'>;
}

/** A patient's times and code. */
export interface WhoIsWho {
  readonly codeOf: (id: string) => string;
  readonly times: ReadonlyMap<string, PatientTimes>;
}

interface Row<E> {
  readonly whose: Coded;
  readonly entry: E;
}

/** The entries of patients in the set, by code and then by time, so that their order tells nothing of the ids. */
function codedRows<E>(
  log: ReadonlyMap<string, readonly E[]>,
  { codeOf, times }: WhoIsWho,
  rowsRead: number,
): { rows: Row<E>[]; account: SharedLogAccount } {
  const rows = [...log].flatMap(([id, entries]) => {
    const own = times.get(id);
    return own === undefined
      ? []
      : entries.map((entry) => ({ whose: { code: codeOf(id), times: own }, entry }));
  });
  const { length: shared } = rows;
  rows.sort((a, b) => (a.whose.code < b.whose.code ? -1 : a.whose.code > b.whose.code ? 1 : 0));
  return { rows, account: { shared, leftOut: rowsRead - shared } };
}

/** Rows of a kind of log that were read and could be used. */
const usedRows = ({ accounts }: Logs, wanted: LogKind): number =>
  accounts
    .filter(({ kind }) => kind === wanted)
    .reduce(
      (sum, { rowsRead, rowsUndecided, setAside }) =>
        sum + rowsRead - rowsUndecided - setAside.reduce((n, { rows }) => n + rows, 0),
      0,
    );

/** The rows of all cohort tables. */
export async function cohortRows({ settings, baseOf }: Pipeline): Promise<CohortRow[]> {
  const read = await readLogFiles('cohort', settings, baseOf('cohort'), (file, how) =>
    readTable('cohort', file, how),
  );
  return read.flatMap(({ table }) => table.rows);
}

/** One table a scale of outcome, since a table has one; rows without an outcome stand with the first. */
function byScale(rows: readonly CodedRow[]): CodedRow[][] {
  const scales = [...new Set(rows.flatMap(({ row }) => row.outcome?.scale ?? []))].sort();
  if (scales.length < 2) return [[...rows]];
  return scales.map((scale, s) =>
    rows.filter(({ row }) => (row.outcome ? row.outcome.scale === scale : s === 0)),
  );
}

function cohortTables(
  people: readonly CohortRow[],
  { codeOf, times }: WhoIsWho,
  clock: ZoneClock,
): { name: string; table: SharedCohort }[] {
  const coded = people
    .map((row): CodedRow => ({ code: codeOf(row.id), row, times: times.get(row.id) ?? null }))
    .sort((a, b) => (a.code < b.code ? -1 : 1));
  const parts = byScale(coded);
  return parts.map((rows, p) => ({
    name: parts.length === 1 ? 'cohort.csv' : `cohort-${p + 1}.csv`,
    table: sharedCohort(rows, clock),
  }));
}

/** A table of decisions or targets without a row would be refused or say nothing. */
const isAny = <E>(coded: { rows: Row<E>[] } | null): coded is { rows: Row<E>[] } =>
  coded !== null && coded.rows.length > 0;

/** The tables of a set. */
export function sharedTables(
  { settings }: Pipeline,
  logs: Logs,
  people: readonly CohortRow[] | null,
  who: WhoIsWho,
  clock: ZoneClock,
): WrittenTables {
  const care = logs.care && codedRows(logs.care, who, usedRows(logs, 'care'));
  const alarms = logs.alarms && codedRows(logs.alarms, who, usedRows(logs, 'alarms'));
  const decisions = settings.logs.overrides
    ? codedRows(logs.decisions, who, usedRows(logs, 'overrides'))
    : null;
  const targets = settings.logs.targets ? codedRows(logs.targets, who, usedRows(logs, 'targets')) : null;
  const cohort = people && cohortTables(people, who, clock);
  const sum = (of: (table: SharedCohort) => number): number =>
    (cohort ?? []).reduce((total, { table }) => total + of(table), 0);
  return {
    files: new Map([
      ...(care ? [['care.csv', sharedCare(care.rows)] as const] : []),
      ...(alarms ? [['alarms.csv', sharedAlarms(alarms.rows)] as const] : []),
      ...(isAny(decisions) ? [['overrides.csv', sharedDecisions(decisions.rows)] as const] : []),
      ...(isAny(targets) ? [['targets.csv', sharedTargets(targets.rows)] as const] : []),
      ...(cohort ?? []).map(({ name, table }) => [name, table.csv] as const),
    ]),
    tables: {
      care: care && { files: ['care.csv'], timeKeys: ['start', 'end'] },
      alarms: alarms && { files: ['alarms.csv'], timeKeys: ['onset', 'ended', 'acknowledged'] },
      overrides: isAny(decisions) ? { files: ['overrides.csv'], timeKeys: ['start', 'end'] } : null,
      targets: isAny(targets) ? { files: ['targets.csv'], timeKeys: ['from', 'until'] } : null,
      cohort: cohort && {
        files: cohort.map(({ name }) => name),
        timeKeys: [...new Set(cohort.flatMap(({ table }) => table.timeKeys))],
      },
    },
    account: {
      care: care?.account ?? null,
      alarms: alarms?.account ?? null,
      decisions: decisions?.account ?? null,
      targets: targets?.account ?? null,
      cohort: cohort && {
        shared: sum(({ rows }) => rows),
        leftOut: 0,
        agesGrouped: sum(({ agesGrouped }) => agesGrouped),
        timesLeftOut: sum(({ timesLeftOut }) => timesLeftOut),
      },
    },
  };
}
