import { Problem } from '../recording/problem.js';
import type { ZoneClock } from '../recording/zone.js';
import type { ExportFile } from './find-exports.js';
import { onePatientOnly } from './one-patient.js';
import { headerAgain, PatientRows } from './patient-rows.js';
import { type FileIdentity, readRecords } from './read-records.js';
import { type Columns, recogniseColumns } from './recognise-columns.js';
import type { IngestSettings } from './settings.js';

/** One export file as it was understood. */
export interface ExportTable extends FileIdentity {
  readonly file: string;
  readonly columns: Columns;
  /** By patient. */
  readonly patients: ReadonlyMap<string, PatientRows>;
}

/**
 * Reads one wide export.
 *
 * @param idOf the patient of all rows of the file, or null where a column names it
 * @param patients filled by patient; holds the rows that were read where the file breaks off
 * @throws Problem where the file as a whole cannot be used; a bad row is kept with its patient's rows
 */
export async function readExport(
  { path, name }: ExportFile,
  settings: IngestSettings,
  clock: ZoneClock,
  idOf: string | null,
  patients = new Map<string, PatientRows>(),
): Promise<ExportTable> {
  const missing = new Set(settings.missing);
  let headers: readonly string[] | null = null;
  let columns: Columns | null = null;
  let checkIdentity: ReturnType<typeof onePatientOnly> | null = null;
  try {
    const identity = await readRecords(path, (cells, line) => {
      if (headers === null || columns === null) {
        headers = cells.map((cell) => cell.trim());
        columns = withPlace(line, () => recogniseColumns(headers ?? [], settings));
        checkIdentity = onePatientOnly(columns, headers);
        return;
      }
      // Behind a second header the columns may stand in another order, for all patients of the file.
      if (idOf === null && cells[columns.time]?.trim() === headers[columns.time])
        throw headerAgain().at({ line });
      checkIdentity?.(cells, line);
      const id = idOf ?? cells[columns.patient ?? -1]?.trim() ?? '';
      let rows = patients.get(id);
      if (!rows) {
        rows = new PatientRows(name, headers, columns, clock, missing);
        patients.set(id, rows);
      }
      rows.add(cells, line);
    });
    if (columns === null) throw new Problem('the file is empty', 'Export it again.');
    if (patients.size === 0) throw new Problem('the file has a header and no rows', 'Export it again.');
    return { ...identity, file: name, columns, patients };
  } catch (error) {
    throw error instanceof Problem ? error.at({ file: name }) : error;
  }
}

function withPlace<T>(line: number, work: () => T): T {
  try {
    return work();
  } catch (error) {
    throw error instanceof Problem ? error.at({ line }) : error;
  }
}
