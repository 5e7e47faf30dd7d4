import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { RowSetAside } from '../ingest/rows/set-aside.js';
import { unitPage } from '../report/morning/unit-page.js';
import type { Results } from '../report/results-schema.js';
import { type Cell, toCsv } from '../report/tables/csv.js';
import { morningTables } from '../report/tables/morning-tables.js';
import { dictionary, tidyCsv } from '../report/tables/tidy-table.js';
import type { LogAccount } from './log-file.js';
import type { KeptPart } from './report-group.js';
import type { Settings } from './settings.js';

/** Rows that were set aside may hold what identifies a patient. */
const PRIVATE = { mode: 0o600 };

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
          ? [[id, '', '', 0, `nothing could be read: ${problem}`, '']]
          : setAsideRows(id, setAside),
      ),
      ...logs.flatMap(({ setAside }) => setAsideRows('', setAside)),
    ],
  );

const setAsideRows = (id: string, setAside: readonly RowSetAside[]): Cell[][] =>
  setAside.map(({ file, line, rows, reason, row }) => [id, file, line, rows, reason, safeInside(row ?? '')]);

/** Writes the unit's page where pages are wanted, results.json, tables and run.json beside the patients' pages. */
export async function writeReport(
  folder: string,
  results: Results,
  parts: readonly KeptPart[],
  logs: readonly LogAccount[],
  settings: Settings,
  run: object,
  hasPages: boolean,
): Promise<void> {
  const reported = parts.flatMap(({ report }) => (report ? [report] : []));
  const sparklines = new Map(
    reported.flatMap(({ result: { id }, page }): [string, string][] => (page ? [[id, page.strip]] : [])),
  );
  const tables = morningTables(results);
  const files: [name: string, content: string][] = [
    ...(hasPages
      ? [
          ['index.html', unitPage({ results, targets: settings.summarize.targets, sparklines })] as [
            string,
            string,
          ],
        ]
      : []),
    ['results.json', json(results)],
    ...tables.map((table): [string, string] => [join('tables', `${table.name}.csv`), tidyCsv(table)]),
    [join('tables', 'dictionary.csv'), dictionary(tables)],
    ['run.json', json(run)],
  ];
  for (const [name, content] of files) await writeFile(join(folder, name), content);
  await writeFile(join(folder, 'tables', 'setaside.csv'), setAsideCsv(parts, logs), PRIVATE);
}
