import type { ExportFile } from '../find-exports.js';
import type { AlarmRow } from './alarm-log.js';
import type { CareRow } from './care-log.js';
import type { CohortRow } from './cohort.js';
import type { TargetRow } from './cpp-targets.js';
import { readTableFile, type TableFile } from './read-table-file.js';
import { readTargets } from './read-targets.js';
import { TABLES, type TableKind } from './recognise-table.js';
import type { Stay } from './stay.js';
import type { TableSettings } from './table-settings.js';

/** The rows of each kind of table. */
export interface RowsByKind {
  readonly alarms: AlarmRow;
  readonly care: CareRow;
  readonly occupancy: Stay;
  readonly cohort: CohortRow;
  readonly targets: TargetRow;
}

/** A log or table as it was read. */
export type TableReading<K extends TableKind = TableKind> = {
  [P in K]: { readonly kind: P } & TableFile<RowsByKind[P]>;
}[K];

const READERS: {
  readonly [K in TableKind]: (file: ExportFile, settings: TableSettings) => Promise<TableFile<RowsByKind[K]>>;
} = {
  alarms: (file, settings) => readTableFile(file, TABLES.alarms, settings),
  care: (file, settings) => readTableFile(file, TABLES.care, settings),
  occupancy: (file, settings) => readTableFile(file, TABLES.occupancy, settings),
  cohort: (file, settings) => readTableFile(file, TABLES.cohort, settings),
  targets: readTargets,
};

/**
 * Reads a log or table of a known kind.
 *
 * @throws Problem where the file as a whole cannot be used
 */
export async function readTable<K extends TableKind>(
  kind: K,
  file: ExportFile,
  settings: TableSettings,
): Promise<TableReading<K>> {
  return { kind, ...(await READERS[kind](file, settings)) } as TableReading<K>;
}
