import type { Decision } from '../clean/decisions.js';
import type { ExportFile } from '../ingest/find-exports.js';
import type { RowSetAside } from '../ingest/rows/set-aside.js';
import {
  careEntries,
  type NamedCareRow,
  RowsSeen,
  type WrittenEntry,
} from '../ingest/tables/care-entries.js';
import type { CareRow } from '../ingest/tables/care-log.js';
import type { DecisionRow } from '../ingest/tables/overrides.js';
import { type Occupancy, occupancyOf, patientsOfRows } from '../ingest/tables/patient-at.js';
import { readOverrides, refuseContradictions } from '../ingest/tables/read-overrides.js';
import { readTable } from '../ingest/tables/read-table.js';
import { type TableFile, withRowTexts } from '../ingest/tables/read-table-file.js';
import type { Stay } from '../ingest/tables/stay.js';
import { unclearDrains } from '../ingest/tables/unclear-drains.js';
import { Problem } from '../recording/problem.js';
import { ZoneClock } from '../recording/zone.js';
import type { Pipeline } from './load-pipeline.js';
import { type LogAccount, readLogFiles } from './log-file.js';
import type { LogKind } from './log-schema.js';

/** What the logs and tables beside the exports say, by patient. */
export interface Logs {
  /** Null where no care log was given. */
  readonly care: ReadonlyMap<string, readonly WrittenEntry[]> | null;
  readonly decisions: ReadonlyMap<string, readonly (Decision & DecisionRow)[]>;
  /** A log each, by kind and in the order of their names. */
  readonly accounts: readonly LogAccount[];
  /** Paths of all of them: where they lie among the exports, they are none. */
  readonly paths: ReadonlySet<string>;
}

interface ReadFile<R> {
  readonly file: ExportFile;
  readonly table: TableFile<R>;
}

const accountOf = (
  kind: LogKind,
  { table }: ReadFile<unknown>,
  more: {
    readonly setAside?: readonly RowSetAside[];
    readonly warnings?: readonly string[];
    readonly rows?: readonly { readonly patient: string }[];
  },
): LogAccount => ({
  file: table.file,
  kind,
  bytes: table.bytes,
  sha256: table.sha256,
  rowsRead: table.rowsRead,
  rowsUndecided: table.passedOver,
  setAside: [...table.setAside, ...(more.setAside ?? [])].sort((a, b) => a.line - b.line),
  warnings: [...table.warnings, ...(more.warnings ?? [])],
  patients: countsOf(more.rows ?? []),
});

function countsOf(rows: readonly { readonly patient: string }[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const { patient } of rows) counts.set(patient, (counts.get(patient) ?? 0) + 1);
  return counts;
}

/** Stays that only another file contradicts are set aside with the text of their row. */
async function accountsOfBeds(files: readonly ReadFile<Stay>[], occupancy: Occupancy): Promise<LogAccount[]> {
  return Promise.all(
    files.map(async (one) => {
      const mine = occupancy.setAside.filter(({ file }) => file === one.table.file);
      return accountOf('occupancy', one, {
        setAside: await withRowTexts(one.file, mine, one.table.delimiter),
      });
    }),
  );
}

/** @throws Problem where the log names only beds, and nothing says who lay in them */
function refuseOnlyBeds({ table: { file, rows } }: ReadFile<CareRow>, occupancy: Occupancy | null): void {
  if (occupancy !== null || rows.length === 0 || rows.some(({ patient }) => patient !== null)) return;
  throw new Problem(
    'the log names beds and no patients, and no table of beds is given',
    'Give the table of who lay in which bed as occupancy in the pipeline file; where the exports are named by bed, say care: {files: ..., columns: {patient: the header of the beds}}.',
    { file },
  );
}

async function joinCare(
  files: readonly ReadFile<CareRow>[],
  occupancy: Occupancy | null,
): Promise<{ rows: NamedCareRow[]; accounts: LogAccount[] }> {
  const seen = new RowsSeen();
  const all: NamedCareRow[] = [];
  const accounts: LogAccount[] = [];
  for (const one of files) {
    refuseOnlyBeds(one, occupancy);
    const named = patientsOfRows(one.table.rows, ({ startUtcMs }) => startUtcMs, occupancy);
    const { rows, setAside } = seen.take(named.rows);
    all.push(...rows);
    const aside = await withRowTexts(one.file, [...named.setAside, ...setAside], one.table.delimiter);
    accounts.push(
      accountOf('care', one, {
        setAside: aside,
        warnings: [...named.warnings, ...unclearDrains(rows)],
        rows,
      }),
    );
  }
  return { rows: all, accounts };
}

function decisionsOf(files: readonly ReadFile<DecisionRow>[]): Logs['decisions'] {
  const rows = files.flatMap(({ table }) => table.rows);
  refuseContradictions(rows);
  const byPatient = new Map<string, DecisionRow[]>();
  for (const row of rows) {
    const known = byPatient.get(row.patient);
    if (known) known.push(row);
    else byPatient.set(row.patient, [row]);
  }
  for (const mine of byPatient.values()) mine.sort((a, b) => a.start - b.start || a.end - b.end);
  return byPatient;
}

/**
 * Reads all logs that the pipeline file names, and says of each row whose it is.
 *
 * @throws Problem where one is not there, cannot be used at all, or holds decisions that cannot be used
 */
export async function readLogs({ settings, baseOf }: Pipeline): Promise<Logs> {
  const reading = <T>(kind: LogKind, read: Parameters<typeof readLogFiles<T>>[3]) =>
    readLogFiles(kind, settings, baseOf(kind), read);
  const beds = await reading('occupancy', (file, how) => readTable('occupancy', file, how));
  const clock = new ZoneClock(settings.ingest.zone);
  const occupancy = settings.logs.occupancy
    ? occupancyOf(
        beds.map(({ table }) => table),
        clock,
      )
    : null;
  const care = await reading('care', (file, how) => readTable('care', file, how));
  const joined = await joinCare(care, occupancy);
  const reviewed = await reading('overrides', readOverrides);
  const decisions = decisionsOf(reviewed);
  return {
    care: settings.logs.care ? careEntries(joined.rows) : null,
    decisions,
    accounts: [
      ...joined.accounts,
      ...(occupancy ? await accountsOfBeds(beds, occupancy) : []),
      ...reviewed.map((one) => accountOf('overrides', one, { rows: one.table.rows })),
    ],
    paths: new Set([...beds, ...care, ...reviewed].map(({ file }) => file.path)),
  };
}

/** What a task needs of the logs: those of its patient, or of all where a column names the patients. */
export interface PatientLogs {
  readonly care: ReadonlyMap<string, readonly WrittenEntry[]> | null;
  readonly decisions: ReadonlyMap<string, readonly Decision[]>;
}

const only = <T>(map: ReadonlyMap<string, T>, id: string): Map<string, T> => {
  const found = map.get(id);
  return new Map(found === undefined ? [] : [[id, found]]);
};

/** The part of the logs that is about a group of files. */
export const logsOfGroup = ({ care, decisions }: Logs, id: string | null): PatientLogs =>
  id === null ? { care, decisions } : { care: care && only(care, id), decisions: only(decisions, id) };
