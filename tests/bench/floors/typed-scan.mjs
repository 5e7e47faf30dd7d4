/** typed-scan.mjs EXPORTS PIPELINE THREADS: reads all columns with their types given, and sums them. */
import { DuckDBInstance } from '@duckdb/node-api';

const [, , exports, , threads] = process.argv;
const instance = await DuckDBInstance.create(':memory:', { threads });
const connection = await instance.connect();
const columns = `{'Time': 'TIMESTAMP', 'icp': 'DOUBLE', 'map': 'DOUBLE'}`;
const files = `${exports.replaceAll("'", "''")}/*.csv`;
const sums = await connection.runAndReadAll(
  `SELECT count(*), max("Time"), sum(icp), sum(map)
   FROM read_csv('${files}', header = true, delim = ',', auto_detect = false, columns = ${columns})`,
);
console.log(String(sums.getRows()[0]));
