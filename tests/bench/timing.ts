import { rmSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { join } from 'node:path';
import type { Cohort } from './cohort.js';
import { measuredRun, type Run } from './measured-run.js';
import type { Program } from './programs.js';
import { median, table } from './table.js';

/** A run in which others used more than this many cores is under load; it counts only where quiet ones are few. */
const QUIET_CORES = 0.2;
const FEWEST_QUIET = 3;

/** All runs of one program. */
export interface Timing {
  readonly program: Program;
  readonly runs: Run[];
}

/** Runs all programs in turn, so many times each, so that a slow minute of the machine meets all of them. */
export async function timeInTurn(
  cohort: Cohort,
  programs: readonly Program[],
  runs: number,
  cores: string,
  outOf: (program: Program) => string,
): Promise<Timing[]> {
  const timings = programs.map((program): Timing => ({ program, runs: [] }));
  for (let k = 0; k < runs; k++) {
    for (const { program, runs: done } of timings) {
      const out = outOf(program);
      rmSync(out, { recursive: true, force: true });
      const run = await measuredRun(program.command(cohort, out), cores);
      done.push(run);
      process.stderr.write(
        `run ${k + 1}, ${program.name}: ${run.wallSeconds.toFixed(1)} s, CPU ${run.cpuSeconds.toFixed(1)} s, ${run.peakMb.toFixed(0)} MB; others used ${run.othersCores.toFixed(2)} cores, load ${loadavg()[0].toFixed(1)}\n`,
      );
    }
  }
  return timings;
}

const quietOf = (runs: readonly Run[]): readonly Run[] => {
  const quiet = runs.filter(({ othersCores }) => othersCores <= QUIET_CORES);
  return quiet.length >= Math.min(FEWEST_QUIET, runs.length) ? quiet : runs;
};

/** Medians and their ratios to the first program, as a markdown table. */
export function timingTable(timings: readonly Timing[], rows: number): string {
  const counted = timings.map(({ program, runs }) => ({ program, all: runs, quiet: quietOf(runs) }));
  const pick = (runs: readonly Run[], key: 'wallSeconds' | 'cpuSeconds' | 'peakMb'): number =>
    median(runs.map((run) => run[key]));
  const first = counted[0].quiet;
  const ratio = (runs: readonly Run[], key: 'wallSeconds' | 'cpuSeconds' | 'peakMb'): string =>
    (pick(runs, key) / pick(first, key)).toFixed(2);
  return table(
    [
      'program',
      'wall s',
      'lowest–highest',
      'x ours',
      'CPU s',
      'x ours',
      'million rows/s',
      'peak MB',
      'x ours',
      'runs counted',
      'cores used by others',
    ],
    counted.map(({ program, all, quiet }) => {
      const walls = quiet.map(({ wallSeconds }) => wallSeconds);
      const others = median(quiet.map(({ othersCores }) => othersCores));
      return [
        program.name,
        pick(quiet, 'wallSeconds').toFixed(1),
        `${Math.min(...walls).toFixed(1)}–${Math.max(...walls).toFixed(1)}`,
        ratio(quiet, 'wallSeconds'),
        pick(quiet, 'cpuSeconds').toFixed(1),
        ratio(quiet, 'cpuSeconds'),
        (rows / 1e6 / pick(quiet, 'wallSeconds')).toFixed(2),
        pick(quiet, 'peakMb').toFixed(0),
        ratio(quiet, 'peakMb'),
        `${quiet.length} of ${all.length}`,
        others.toFixed(2) + (others > QUIET_CORES ? ' (under load)' : ''),
      ];
    }),
  );
}

/** What the reader of figures has to know of the machine. */
export const machineLine = (cores: string): string =>
  `${cpus()[0]?.model}, cores ${cores} of ${cpus().length}, Node ${process.version}; load ${loadavg()
    .map((load) => load.toFixed(1))
    .join(', ')} (1, 5, 15 min). Ratios carry over to other machines, seconds do not.`;

/** A folder for what a program writes. */
export const outFolder =
  (folder: string) =>
  (program: Program): string =>
    join(folder, `out-${program.name.replace(/\W+/g, '-')}`);
