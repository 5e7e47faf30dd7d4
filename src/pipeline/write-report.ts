import { appendFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { RowSetAside } from '../ingest/rows/set-aside.js';
import { ZoneClock } from '../recording/zone.js';
import { isOfUnit, type PatientReportName } from '../report/report-name.js';
import type { RecordingResult, UnitResults } from '../report/results-schema.js';
import { type Cell, toCsv } from '../report/tables/csv.js';
import type { Reported } from '../report/tables/reported.js';
import { dictionary, type TidyTable, tidyHeader, tidyRows } from '../report/tables/tidy-table.js';
import { UNIT_FILES } from '../report/unit-files.js';
import { byPatientId } from '../report/words.js';
import type { ComposedUnit } from './compose-unit.js';
import { dropResults, type KeptResult, resultIn } from './kept-result.js';
import type { LogAccount } from './log-file.js';
import type { KeptPart } from './report-group.js';
import type { Settings } from './settings.js';

/** Rows that were set aside may hold what identifies a patient. */
const PRIVATE = { mode: 0o600 };

/** Where the recordings go in; text in quotes cannot hold it, since its quotes would be escaped. */
const NO_RECORDINGS = '"recordings": []';

const json = (value: unknown): string => `${JSON.stringify(value, null, 2)}\n`;

/** A spreadsheet that parts cells at another delimiter would run what stands behind one. Source: OWASP, CSV injection. */
const safeInside = (row: string): string => row.replace(/([;\t|]\s*)(?=[=+@]|-(?![\d.]))/g, "$1'");

/** A row a row that was set aside, with its text as it came; where many share a reason, the first of them. A file of which no row could be read stands there with the reason. Rows of logs stand behind, and name no patient. */
const setAsideCsv = (parts: readonly KeptPart[], logs: readonly LogAccount[]): string =>
  toCsv(
    ['patient', 'file', 'line', 'rows', 'reason', 'row'],
    [
      ...parts.flatMap(({ id, problem, setAside }) =>
        problem !== null && setAside.length === 0
          ? [[id, '', '', 0, safeInside(`nothing could be read: ${problem}`), '']]
          : setAsideRows(id, setAside, problem),
      ),
      ...logs.flatMap(({ setAside }) => setAsideRows('', setAside, null)),
    ],
  );

/** Of a patient who failed all rows are set aside for the same reason, which pages send people here for. */
const setAsideRows = (id: string, setAside: readonly RowSetAside[], problem: string | null): Cell[][] =>
  setAside.map(({ file, line, rows, kind, reason, row }) => [
    id,
    file,
    line,
    rows,
    kind === 'failed' && problem !== null ? safeInside(`${reason}: ${problem}`) : reason,
    safeInside(row ?? ''),
  ]);

/** So many recordings are read and written at a time; more would outlive the clearing of short-lived memory. */
const AT_A_TIME = 2;

/** Writes the unit's page and the texts beside it where pages are wanted, results.json, tables and run.json beside the patients' pages. */
export async function writeReport(
  folder: string,
  results: UnitResults,
  parts: readonly KeptPart[],
  logs: readonly LogAccount[],
  settings: Settings,
  run: object,
  hasPages: boolean,
  composed: ComposedUnit | null = null,
): Promise<void> {
  const { report } = settings;
  if (!isOfUnit(report)) {
    await writePatients(folder, results, parts, settings, report, hasPages);
  } else if (composed) {
    const { writeUnit } = await import('./write-unit.js');
    await writeUnit(folder, results, composed, settings, hasPages);
  }
  // It names the exports, and so may name patients that stand under pseudonyms elsewhere.
  await writeFile(join(folder, 'run.json'), json(run), composed?.key ? PRIVATE : {});
  await writeFile(join(folder, 'tables', 'setaside.csv'), setAsideCsv(parts, logs), PRIVATE);
}

/** Writes what a report has of patients one by one. */
async function writePatients(
  folder: string,
  results: UnitResults,
  parts: readonly KeptPart[],
  settings: Settings,
  report: PatientReportName,
  hasPages: boolean,
): Promise<void> {
  const files = UNIT_FILES[report];
  const clock = new ZoneClock(settings.ingest.zone);
  const reported = parts
    .flatMap(({ report }) => (report ? [report] : []))
    .sort((a, b) => byPatientId(a.result.unit.id, b.result.unit.id));
  if (hasPages) {
    const sparklines = new Map(
      reported.flatMap(({ result: { unit }, pages }) => (pages ? [[unit.id, pages.strip] as const] : [])),
    );
    const page = files.page({ results, targets: settings.summarize.targets, sparklines });
    await writeFile(join(folder, 'index.html'), page);
    for (const { name, text } of files.texts(results)) await writeFile(join(folder, name), text);
  }
  await writeFigures(
    folder,
    results,
    reported.map(({ result }) => result),
    (of) => files.tables(of, clock),
  );
}

/** What stands minute by minute is for tables/minutes.csv: it would be most of results.json. */
const withoutMinutes = (one: RecordingResult): RecordingResult => ({
  ...one,
  perfusion: { ...one.perfusion, minutes: null },
});

/** results.json and the tables, some recordings at a time: of hundreds of patients all would fill the memory. */
async function writeFigures(
  folder: string,
  results: UnitResults,
  kept: readonly KeptResult[],
  tablesOf: (results: Reported) => TidyTable[],
): Promise<void> {
  const file = join(folder, 'results.json');
  const [head, tail] = json({ ...results, recordings: [] }).split(NO_RECORDINGS);
  const none = tablesOf({ recordings: [] });
  const tableFile = ({ name }: TidyTable): string => join(folder, 'tables', `${name}.csv`);
  await writeFile(file, `${head}"recordings": [`);
  await writeFile(join(folder, 'tables', 'dictionary.csv'), dictionary(none));
  for (const table of none) await writeFile(tableFile(table), tidyHeader(table));
  for (let from = 0; from < kept.length; from += AT_A_TIME) {
    const recordings = await Promise.all(kept.slice(from, from + AT_A_TIME).map(resultIn));
    const texts = recordings.map((one) =>
      JSON.stringify(withoutMinutes(one), null, 2).replaceAll('\n', '\n    '),
    );
    await appendFile(file, `${from === 0 ? '' : ','}\n    ${texts.join(',\n    ')}`);
    for (const table of tablesOf({ recordings })) await appendFile(tableFile(table), tidyRows(table));
  }
  await appendFile(file, `${kept.length === 0 ? '' : '\n  '}]${tail}`);
  await dropResults(folder);
}
