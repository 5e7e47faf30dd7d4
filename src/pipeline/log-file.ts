import { type ExportFile, findExports } from '../ingest/find-exports.js';
import type { RowSetAside } from '../ingest/rows/set-aside.js';
import { timeChoice } from '../ingest/settings.js';
import { recogniseTableFile, TABLES } from '../ingest/tables/recognise-table.js';
import type { TableSettings } from '../ingest/tables/table-settings.js';
import { Problem } from '../recording/problem.js';
import { LOGS, type LogKind } from './log-schema.js';
import type { Settings } from './settings.js';

/** A log as it was read, for results.json and run.json. Rows read = used + undecided + set aside. */
export interface LogAccount {
  readonly file: string;
  readonly kind: LogKind;
  readonly bytes: number;
  readonly sha256: string;
  readonly rowsRead: number;
  /** Rows of a reviewed copy on which nobody decided; 0 for other logs. */
  readonly rowsUndecided: number;
  readonly setAside: readonly RowSetAside[];
  readonly warnings: readonly string[];
  /** Rows used by the patient that they name; empty for tables of beds. */
  readonly patients: ReadonlyMap<string, number>;
}

/** A log that is no such log, told by its header, where nobody said what its columns are. */
async function refuseOtherKind(file: ExportFile, kind: LogKind, isDeclared: boolean): Promise<void> {
  if (isDeclared) return;
  const found = await recogniseTableFile(file);
  if (found === null || found === kind) return;
  throw new Problem(
    `the file reads like ${TABLES[found].title}, and ${kind} names it as ${LOGS[kind].title}`,
    `Look at ${kind} in the pipeline file; if it is right, name the columns there, as ${kind}: {files: ..., columns: {...}}.`,
  );
}

/** Messages about a log's columns name the key of the pipeline file under which they stand; `missing` is one for all. */
export const underKey = (text: string, kind: LogKind): string =>
  text
    .replace(
      /columns: \{(?!missing|\.\.\.)(?:[^{}]|\{[^{}]*\})*\}/g,
      (columns) => `${kind}: {files: ..., ${columns}}`,
    )
    .replace(
      /into the pipeline file under columns, as in (\w+: \{[^{}]*\})/,
      (_, column: string) => `into the pipeline file, as ${kind}: {files: ..., columns: {${column}}}`,
    )
    .replace('in the pipeline file under columns', `in the pipeline file under ${kind}, as columns`);

/** What reading a log depends on; dates are taken as in the exports where its own columns say nothing else. */
function tableSettings({ ingest, logs }: Settings, kind: LogKind): TableSettings {
  const { zone, missing, columns } = ingest;
  const order = kind === 'overrides' ? undefined : timeChoice(columns).order;
  return { zone, missing, order, columns: logs[kind]?.columns };
}

/**
 * The files of a log, each as `read` makes it.
 *
 * @param base folder that their paths are relative to
 * @throws Problem that names the file which is not there, or cannot be used as this log
 */
export async function readLogFiles<T>(
  kind: LogKind,
  settings: Settings,
  base: string,
  read: (file: ExportFile, settings: TableSettings) => Promise<T>,
): Promise<{ file: ExportFile; table: T }[]> {
  const choice = settings.logs[kind];
  if (!choice) return [];
  const files = await findExports(choice.files, base, `Look at ${kind} in the pipeline file.`);
  const tables: { file: ExportFile; table: T }[] = [];
  for (const file of files) {
    try {
      await refuseOtherKind(file, kind, choice.columns !== undefined);
      tables.push({ file, table: await read(file, tableSettings(settings, kind)) });
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      const { what, fix, where } = error;
      throw new Problem(underKey(what, kind), underKey(fix, kind), { ...where, file: file.name });
    }
  }
  return tables;
}
