/** main.mjs EXPORTS OUT THREADS: the job of the benchmark in SQL, a connection for each thread. */
import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';
import { patientFigures } from './patient.mjs';

const [, , exports, out, threads] = process.argv;
const paths = readdirSync(exports)
  .filter((name) => name.endsWith('.csv'))
  .sort()
  .map((name) => join(exports, name));
const instance = await DuckDBInstance.create(':memory:', { threads });
const recordings = new Array(paths.length);
let next = 0;
const lane = async () => {
  const connection = await instance.connect();
  while (next < paths.length) {
    const at = next++;
    recordings[at] = await patientFigures(connection, paths[at]);
  }
};
await Promise.all(Array.from({ length: Number(threads) }, lane));
mkdirSync(out, { recursive: true });
writeFileSync(join(out, 'results.json'), JSON.stringify({ recordings }));
