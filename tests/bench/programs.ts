import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Cohort } from './cohort.js';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** A program that does the job of the benchmark. */
export interface Program {
  readonly name: string;
  readonly isOurs: boolean;
  /** What to run for a cohort; results.json goes into the folder `out`. */
  command(cohort: Cohort, out: string): readonly string[];
}

const works = (command: string, ...args: string[]): boolean =>
  spawnSync(command, args, { stdio: 'ignore' }).status === 0;

const PYTHON_MODULES = 'import numpy, pandas';
const R_PACKAGES = 'library(data.table); library(jsonlite); library(openssl)';

/** Debian's python3 carries Debian's numpy and pandas; another python on the path may not. */
function python(): string {
  const found = ['/usr/bin/python3', 'python3'].find((one) => works(one, '-c', PYTHON_MODULES));
  if (found) return found;
  throw new Error(
    'No python3 with numpy and pandas is here, and the benchmark compares with them: run "npm run verify", which installs them on Debian, or install python3-numpy and python3-pandas by hand.',
  );
}

function rscript(): string {
  if (works('Rscript', '-e', R_PACKAGES)) return 'Rscript';
  throw new Error(
    'No R with data.table, jsonlite and openssl is here, and the benchmark compares with it: run "npm run verify", which installs them on Debian, or install r-base-core, r-cran-data.table, r-cran-jsonlite and r-cran-openssl by hand.',
  );
}

/**
 * The program of this project, from a folder `dist`.
 *
 * @throws Error where it was not built
 */
export function ours(dist: string, name = 'ours'): Program {
  const main = join(dist, 'command-line', 'main.js');
  if (!existsSync(main)) throw new Error(`${main} is not there; run "npm run build" first.`);
  const help = spawnSync(process.execPath, [main, 'run', '--help'], { encoding: 'utf8' }).stdout;
  // Each run has to do the whole job, whatever an earlier one has left.
  const fresh = help.includes('--fresh') ? ['--fresh'] : [];
  return {
    name,
    isOurs: true,
    command: ({ pipeline, exports }, out) => [
      process.execPath,
      main,
      'run',
      pipeline,
      '--data',
      exports,
      '--out',
      out,
      '--no-pages',
      ...fresh,
    ],
  };
}

/**
 * The same job as users would otherwise write it.
 *
 * @param cores how many each may use
 * @throws Error where R or Python or what they need is missing
 */
export function referencePrograms(cores: number): Program[] {
  const [py, r] = [python(), rscript()];
  const reference =
    (start: readonly string[], workers: number) =>
    ({ exports }: Cohort, out: string): readonly string[] => [...start, exports, out, String(workers)];
  // Bytecode is no part of the repository.
  const pandas = [py, '-B', here('reference/pandas/main.py')];
  const one = { name: 'pandas and numpy, one process', isOurs: false, command: reference(pandas, 1) };
  return [
    one,
    ...(cores > 1
      ? [{ ...one, name: `pandas and numpy, ${cores} processes`, command: reference(pandas, cores) }]
      : []),
    {
      name: `R data.table, ${cores} processes`,
      isOurs: false,
      command: reference([r, '--vanilla', here('reference/data-table/main.R')], cores),
    },
    {
      name: `DuckDB, ${cores} threads`,
      isOurs: false,
      command: reference([process.execPath, here('reference/duckdb/main.mjs')], cores),
    },
  ];
}

/** Parts of the job alone, below which nothing that does the part can go. */
export function floors(dist: string, cores: number): Program[] {
  const floor =
    (file: string, ...more: string[]): Program['command'] =>
    ({ exports, pipeline }) => [process.execPath, here(`floors/${file}`), exports, pipeline, ...more];
  return [
    { name: 'every byte read, line feeds counted', isOurs: false, command: floor('bytes.mjs') },
    { name: 'SHA-256 of every file', isOurs: false, command: floor('sha256.mjs') },
    {
      name: `DuckDB, typed scan of the columns, ${cores} threads`,
      isOurs: false,
      command: floor('typed-scan.mjs', String(cores)),
    },
    { name: 'our ingest alone, one thread', isOurs: false, command: floor('our-ingest.mjs', dist) },
  ];
}

/**
 * The rows that our program says it has read.
 *
 * @throws Error where it says nothing of rows
 */
export function rowsRead(stdout: string): number {
  const rows = /^Rows read (\d+)/m.exec(stdout)?.[1];
  if (rows === undefined)
    throw new Error(`"Rows read ..." was expected of the program, which said:\n${stdout}`);
  return Number(rows);
}
