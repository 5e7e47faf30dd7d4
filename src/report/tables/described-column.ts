import type { ColumnType, TidyColumn } from './tidy-table.js';

/** What a data dictionary says of a column; blank or null where there is nothing to say. */
export interface DescribedColumn {
  readonly column: string;
  readonly title: string;
  readonly type: ColumnType;
  /** UCUM. */
  readonly unit: string;
  readonly says: string;
  readonly definition: string;
  readonly source: string;
  readonly samplingSeconds: number | null;
}

/** A column as dictionaries, Parquet metadata and CSVW tell it: one place, so that all three say the same. */
export const describedColumn = (column: TidyColumn, type: ColumnType): DescribedColumn => ({
  column: column.name,
  title: column.title ?? column.name,
  type,
  unit: column.unit,
  says: column.says,
  definition: column.definition ?? '',
  source: column.source ?? '',
  samplingSeconds: column.samplingSeconds ?? null,
});
