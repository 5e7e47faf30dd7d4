import type { Decision } from '../clean/decisions.js';
import type { ExportFile } from '../ingest/find-exports.js';
import type { RowSetAside } from '../ingest/rows/set-aside.js';
import { careEntries, type WrittenEntry } from '../ingest/tables/care-entries.js';
import type { CohortRow } from '../ingest/tables/cohort.js';
import { type Cohort, cohortOfFiles } from '../ingest/tables/cohort-of-files.js';
import type { TargetRow } from '../ingest/tables/cpp-targets.js';
import { deathsOf } from '../ingest/tables/deaths.js';
import type { RowPlace } from '../ingest/tables/describe.js';
import { type LoggedAlarm, loggedAlarms } from '../ingest/tables/logged-alarms.js';
import type { DecisionRow } from '../ingest/tables/overrides.js';
import { type Occupancy, occupancyOf, patientsOfRows } from '../ingest/tables/patient-at.js';
import { readOverrides, refuseContradictions } from '../ingest/tables/read-overrides.js';
import { readTable } from '../ingest/tables/read-table.js';
import { type TableFile, withRowTexts } from '../ingest/tables/read-table-file.js';
import { readTargets, targetsByPatient } from '../ingest/tables/read-targets.js';
import { RowsSeen } from '../ingest/tables/rows-seen.js';
import type { Stay } from '../ingest/tables/stay.js';
import { unclearDrains } from '../ingest/tables/unclear-drains.js';
import type { Whose } from '../ingest/tables/whose.js';
import type { ChannelKind } from '../recording/channel.js';
import type { Interval } from '../recording/interval.js';
import { Problem } from '../recording/problem.js';
import { ZoneClock } from '../recording/zone.js';
import type { ReportName } from '../report/report-name.js';
import { nightsIn } from '../summarize/calendar.js';
import type { StudyRow } from '../summarize/study/study-recording.js';
import type { Pipeline } from './load-pipeline.js';
import { type LogAccount, readLogFiles } from './log-file.js';
import type { LogKind } from './log-schema.js';

/** What the logs and tables beside the exports say, by patient. */
export interface Logs {
  /** Null where no care log was given. */
  readonly care: ReadonlyMap<string, readonly WrittenEntry[]> | null;
  /** Null where no alarm log was given. */
  readonly alarms: ReadonlyMap<string, readonly LoggedAlarm[]> | null;
  readonly decisions: ReadonlyMap<string, readonly (Decision & DecisionRow)[]>;
  /** Days of the calendar, as a whole, that the logs reach over; null where none was given or it holds nothing. */
  readonly alarmsCover: Interval | null;
  readonly careCover: Interval | null;
  /** True where an alarm of anybody was acknowledged. */
  readonly hasAcknowledgements: boolean;
  /** The channels of which the logs hold any alarm of anybody. */
  readonly alarmedChannels: readonly ChannelKind[];
  /** Rows of alarm logs that told of an alarm which stands in another file too. */
  readonly alarmsMerged: number;
  /** When patients died, milliseconds UTC; empty where no table says so. */
  readonly deaths: ReadonlyMap<string, number>;
  /** Patients of the cohort table; empty where none was given. */
  readonly cohort: ReadonlyMap<string, CohortRow>;
  /** CPP targets by time; empty where no table was given. */
  readonly targets: ReadonlyMap<string, readonly TargetRow[]>;
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

/** Rows that only another file contradicts are set aside with their text. */
async function accountsOfCohort(
  files: readonly ReadFile<CohortRow>[],
  { rows, setAside }: Cohort,
): Promise<LogAccount[]> {
  return Promise.all(
    files.map(async (one) => {
      const { file, delimiter } = one.table;
      const mine = setAside.filter((entry) => entry.file === file);
      return accountOf('cohort', one, {
        setAside: await withRowTexts(one.file, mine, delimiter),
        rows: [...rows.values()].filter((row) => row.file === file).map(({ id }) => ({ patient: id })),
      });
    }),
  );
}

/** Logs whose rows name patients or beds. */
type JoinedKind = 'care' | 'alarms';

/** @throws Problem where the log names only beds, and nothing says who lay in them */
function refuseOnlyBeds(
  kind: JoinedKind,
  { table: { file, rows } }: ReadFile<Whose>,
  occupancy: Occupancy | null,
): void {
  if (occupancy !== null || rows.length === 0 || rows.some(({ patient }) => patient !== null)) return;
  throw new Problem(
    'the log names beds and no patients, and no table of beds is given',
    `Give the table of who lay in which bed as occupancy in the pipeline file; where the exports are named by bed, say ${kind}: {files: ..., columns: {patient: the header of the beds}}.`,
    { file },
  );
}

type Named<R> = R & { readonly patient: string };

/** Names the patient of each row of all files of a log; rows that stand in two files count once. */
async function joinRows<R extends RowPlace & Whose>(
  kind: JoinedKind,
  files: readonly ReadFile<R>[],
  occupancy: Occupancy | null,
  instantOf: (row: R) => number,
  warningsOf: (rows: readonly Named<R>[]) => readonly string[] = () => [],
): Promise<{ rows: Named<R>[]; accounts: LogAccount[] }> {
  const seen = new RowsSeen<Named<R>>();
  const all: Named<R>[] = [];
  const accounts: LogAccount[] = [];
  for (const one of files) {
    refuseOnlyBeds(kind, one, occupancy);
    const named = patientsOfRows(one.table.rows, instantOf, occupancy);
    const { rows, setAside } = seen.take(named.rows);
    all.push(...rows);
    const aside = await withRowTexts(one.file, [...named.setAside, ...setAside], one.table.delimiter);
    const warnings = [...named.warnings, ...warningsOf(rows)];
    accounts.push(accountOf(kind, one, { setAside: aside, warnings, rows }));
  }
  return { rows: all, accounts };
}

const later = (utcMs: number | null, byMs: number): number | null => utcMs && utcMs + byMs;

/** The rows of a log whose clock was apart, as the clock of the exports would have told them. */
const moved = <R>(
  files: readonly ReadFile<R>[],
  seconds: number | undefined,
  move: (row: R, byMs: number) => R,
): readonly ReadFile<R>[] =>
  seconds === undefined
    ? files
    : files.map(({ file, table }) => ({
        file,
        table: { ...table, rows: table.rows.map((row) => move(row, seconds * 1000)) },
      }));

/** The days from the first instant to the last: logs are exported by days, and a quiet hour at an end has no row. */
function coverOf(
  moved: readonly number[],
  shiftSeconds: number | undefined,
  clock: ZoneClock,
): Interval | null {
  if (moved.length === 0) return null;
  const byMs = (shiftSeconds ?? 0) * 1000;
  // The days are those of the clock by which the log was exported.
  const instants = moved.map((t) => t - byMs);
  const [start, end] = instants.reduce(
    ([a, b], t) => [Math.min(a, t), Math.max(b, t)],
    [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
  );
  const days = nightsIn({ start, end: end + 1 }, { fromMinutes: 0, toMinutes: 0 }, clock);
  return { start: days[0].start + byMs, end: days[days.length - 1].end + byMs };
}

const sizeOf = (byPatient: ReadonlyMap<string, readonly unknown[]> | null): number =>
  [...(byPatient ?? [])].reduce((sum, [, list]) => sum + list.length, 0);

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
  const care = moved(
    await reading('care', (file, how) => readTable('care', file, how)),
    settings.logs.care?.shiftSeconds,
    (row, by) => ({ ...row, startUtcMs: row.startUtcMs + by, endUtcMs: later(row.endUtcMs, by) }),
  );
  const done = await joinRows('care', care, occupancy, ({ startUtcMs }) => startUtcMs, unclearDrains);
  const alarms = moved(
    await reading('alarms', (file, how) => readTable('alarms', file, how)),
    settings.logs.alarms?.shiftSeconds,
    (row, by) => ({
      ...row,
      onsetUtcMs: row.onsetUtcMs + by,
      acknowledgedUtcMs: later(row.acknowledgedUtcMs, by),
      endedUtcMs: later(row.endedUtcMs, by),
    }),
  );
  const raised = await joinRows('alarms', alarms, occupancy, ({ onsetUtcMs }) => onsetUtcMs);
  const byPatient = settings.logs.alarms ? loggedAlarms(raised.rows) : null;
  const cohort = await reading('cohort', (file, how) => readTable('cohort', file, how));
  const people = cohortOfFiles(cohort.map(({ table }) => table.rows));
  const reviewed = await reading('overrides', readOverrides);
  const decisions = decisionsOf(reviewed);
  const aims = await reading('targets', readTargets);
  return {
    care: settings.logs.care ? careEntries(done.rows) : null,
    alarms: byPatient,
    alarmsCover: coverOf(
      raised.rows.map(({ onsetUtcMs }) => onsetUtcMs),
      settings.logs.alarms?.shiftSeconds,
      clock,
    ),
    careCover: coverOf(
      done.rows.map(({ startUtcMs }) => startUtcMs),
      settings.logs.care?.shiftSeconds,
      clock,
    ),
    hasAcknowledgements: raised.rows.some(({ acknowledgedUtcMs }) => acknowledgedUtcMs !== null),
    alarmedChannels: [...new Set(raised.rows.flatMap(({ parameter }) => parameter.channel ?? []))].sort(),
    alarmsMerged: raised.rows.length - sizeOf(byPatient),
    deaths: deathsOf([...people.rows.values()]),
    cohort: people.rows,
    decisions,
    targets: targetsByPatient(aims.flatMap(({ table }) => table.rows)),
    accounts: [
      ...done.accounts,
      ...raised.accounts,
      ...(occupancy ? await accountsOfBeds(beds, occupancy) : []),
      ...(await accountsOfCohort(cohort, people)),
      ...reviewed.map((one) => accountOf('overrides', one, { rows: one.table.rows })),
      ...aims.map((one) => accountOf('targets', one, { rows: one.table.rows })),
    ],
    paths: new Set(
      [...beds, ...care, ...alarms, ...cohort, ...reviewed, ...aims].map(({ file }) => file.path),
    ),
  };
}

/** What a task needs of the logs: those of its patient, or of all where a column names the patients. */
export interface PatientLogs
  extends Pick<
    Logs,
    | 'care'
    | 'alarms'
    | 'targets'
    | 'alarmsCover'
    | 'careCover'
    | 'hasAcknowledgements'
    | 'alarmedChannels'
    | 'deaths'
  > {
  readonly decisions: ReadonlyMap<string, readonly Decision[]>;
  /** What a study needs of its patients; empty elsewhere. */
  readonly studied: ReadonlyMap<string, StudyRow>;
}

const only = <T>(map: ReadonlyMap<string, T>, id: string): Map<string, T> => {
  const found = map.get(id);
  return new Map(found === undefined ? [] : [[id, found]]);
};

/** What nobody but an audit asks of the logs: a patient's stored result must not hang on the rows of others. */
const NO_COVER = {
  alarmsCover: null,
  careCover: null,
  hasAcknowledgements: false,
  alarmedChannels: [],
} as const;

/** What of the cohort table a patient's figures hang on: an outcome that comes later changes none of them. */
const studyRow = ({
  injury,
  monitoringFrom,
  monitoringTo,
  withdrawn,
  brainDeath,
  death,
  therapyIntensity,
}: CohortRow): StudyRow => ({
  injury,
  monitoringFrom,
  monitoringTo,
  withdrawn,
  brainDeath,
  death,
  therapyIntensity,
});

/** The part of the logs that is about a group of files, for a report of this name. */
export function logsOfGroup(logs: Logs, id: string | null, report: ReportName): PatientLogs {
  const isAudit = report === 'audit';
  const { care, alarms, decisions, targets, alarmsCover, careCover, hasAcknowledgements } = logs;
  const { alarmedChannels } = logs;
  const ofAll = isAudit ? { alarmsCover, careCover, hasAcknowledgements, alarmedChannels } : NO_COVER;
  const deaths: Logs['deaths'] = isAudit ? logs.deaths : new Map();
  // Of one patient first: of thousands each group would go through the whole table.
  const cohort = report !== 'study' ? new Map() : id === null ? logs.cohort : only(logs.cohort, id);
  const studied: PatientLogs['studied'] = new Map([...cohort].map(([one, row]) => [one, studyRow(row)]));
  return id === null
    ? { care, alarms, decisions, targets, deaths, studied, ...ofAll }
    : {
        care: care && only(care, id),
        alarms: alarms && only(alarms, id),
        decisions: only(decisions, id),
        targets: only(targets, id),
        deaths: only(deaths, id),
        studied,
        ...ofAll,
      };
}
