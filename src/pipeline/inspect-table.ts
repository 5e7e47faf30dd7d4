import type { ExportFile } from '../ingest/find-exports.js';
import { rowsIn } from '../ingest/rows/set-aside.js';
import { timeChoice } from '../ingest/settings.js';
import type { ColumnSpec } from '../ingest/tables/describe.js';
import { anglesIn } from '../ingest/tables/head-of-bed.js';
import { readTable } from '../ingest/tables/read-table.js';
import { recogniseTableFile, TABLES, type TableKind } from '../ingest/tables/recognise-table.js';
import { Problem } from '../recording/problem.js';
import { ZoneClock } from '../recording/zone.js';
import type { Inspection } from '../report/inspect/inspection.js';
import { firstSetAside } from './first-set-aside.js';
import type { InspectSettings } from './inspect-settings.js';
import { underKey } from './log-file.js';

/** Which log or table a file is; null where it is an export or cannot be read at all. */
export async function tableKindOf(file: ExportFile): Promise<TableKind | null> {
  try {
    return await recogniseTableFile(file, true);
  } catch (error) {
    if (error instanceof Problem) return null;
    throw error;
  }
}

const EMPTY: Omit<Inspection, 'file' | 'kind'> = {
  problem: null,
  bytes: null,
  sha256: null,
  dialect: null,
  times: null,
  patientFrom: null,
  patientColumn: null,
  columns: [],
  patients: [],
  table: null,
  rows: { read: 0, used: 0, setAside: 0 },
  setAside: [],
  warnings: [],
};

/** Reads a log or table and says what was understood, also where it cannot be used. */
export async function inspectTable(
  kind: TableKind,
  file: ExportFile,
  { zone, missing, columns, logs, zoneIsGiven }: InspectSettings,
): Promise<Inspection> {
  const { order } = timeChoice(columns);
  const own = logs?.[kind]?.columns;
  const base = { ...EMPTY, file: file.name, kind };
  try {
    const table = await readTable(kind, file, { zone, missing, order, columns: own });
    const clock = new ZoneClock(zone);
    const specs: Readonly<Record<string, ColumnSpec>> = TABLES[kind].columns;
    return {
      ...base,
      bytes: table.bytes,
      sha256: table.sha256,
      dialect: {
        encoding: table.encoding,
        delimiter: table.delimiter,
        decimal: table.decimal,
        packed: table.packed,
        headerLine: null,
        unitsLine: false,
        linesAbove: [],
        shape: null,
      },
      columns: [
        ...table.columns.map(({ header, key, unit, why }) => ({
          header,
          takenFor: specs[key]?.title.replace(/^the /, '') ?? key,
          unit,
          why,
        })),
        ...table.leftAlone.map(({ header, why }) => ({ header, takenFor: null, unit: null, why })),
      ],
      table: {
        start: table.span && clock.format(table.span.firstUtcMs),
        end: table.span && clock.format(table.span.lastUtcMs),
        counts: table.counts.map(({ what, rows }) => ({ what, rows })),
        angles: table.kind === 'care' ? anglesIn(table.rows) : null,
      },
      rows: { read: table.rowsRead, used: table.rows.length, setAside: rowsIn(table.setAside) },
      setAside: firstSetAside(table.setAside),
      warnings: zoneIsGiven
        ? table.warnings
        : [
            `Times without an offset were taken for ${zone}: say the zone, as --set timezone=Europe/Oslo.`,
            ...table.warnings,
          ],
    };
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    // What to write in the pipeline file stands under the key of the log there.
    return { ...base, problem: underKey(error.message, kind) };
  }
}
