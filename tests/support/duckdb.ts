import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type DuckDBConnection, DuckDBInstance } from '@duckdb/node-api';
import { newFolder } from './cistern.js';

/** A Parquet file as DuckDB reads it. */
export interface ParquetRead {
  readonly names: readonly string[];
  readonly types: readonly string[];
  /** Whole numbers of 64 bits are bigint. */
  readonly rows: readonly (readonly unknown[])[];
  readonly metadata: ReadonlyMap<string, string>;
  readonly createdBy: unknown;
}

/** Quoted as SQL text. */
export const sqlText = (text: string): string => `'${text.replaceAll("'", "''")}'`;

let shared: Promise<DuckDBConnection> | undefined;

/** One connection for a test file: making an instance takes longer than a query. */
export const duckdb = (): Promise<DuckDBConnection> => {
  shared ??= DuckDBInstance.create(':memory:', { threads: '1' }).then((instance) => instance.connect());
  return shared;
};

/** Reads what a Parquet file holds, and what its footer says of it. */
export async function readParquet(bytes: Uint8Array): Promise<ParquetRead> {
  const path = join(newFolder(), 'table.parquet');
  writeFileSync(path, bytes);
  const connection = await duckdb();
  const all = async (sql: string) => connection.runAndReadAll(sql);
  const file = sqlText(path);
  const read = await all(`select * from read_parquet(${file})`);
  const pairs = await all(`select decode(key), decode(value) from parquet_kv_metadata(${file})`);
  const footer = await all(`select created_by from parquet_file_metadata(${file})`);
  return {
    names: read.columnNames(),
    types: read.columnTypes().map(String),
    rows: read.getRowsJS(),
    metadata: new Map(pairs.getRowsJS() as [string, string][]),
    createdBy: footer.getRowsJS()[0][0],
  };
}
