import { Piscina } from 'piscina';
import type { SamplingSeconds } from '../../fixtures/labelled/evaluation-set.js';
import type { Sight } from './look.js';
import { joinRows, type Rows } from './measure/rows.js';
import type { Task } from './worker.js';

/** Worker threads that run TypeScript as it stands. */
async function onThreads<Result>(
  threads: number,
  tasks: readonly Task[],
  onDone: (done: number) => void,
): Promise<Result[]> {
  const pool = new Piscina<Task, Result>({
    filename: new URL('./worker.ts', import.meta.url).href,
    execArgv: ['--import', 'tsx'],
    minThreads: threads,
    maxThreads: threads,
  });
  let done = 0;
  try {
    return await Promise.all(
      tasks.map(async (task) => {
        const result = await pool.run(task);
        onDone(++done);
        return result;
      }),
    );
  } finally {
    await pool.destroy();
  }
}

/** Rows of all patients, in the order of the seeds whatever thread was first. */
export const measureAll = async (
  seeds: readonly number[],
  threads: number,
  onDone: (done: number) => void = () => {},
): Promise<Rows> =>
  joinRows(
    await onThreads<Rows>(
      threads,
      seeds.map((seed) => ({ seed })),
      onDone,
    ),
  );

/** What went wrong with a kind, the worst first. */
export async function lookAtAll(
  seeds: readonly number[],
  kind: string,
  samplingSeconds: SamplingSeconds,
  threads: number,
  onDone: (done: number) => void = () => {},
): Promise<Sight[]> {
  const tasks = seeds.map((seed) => ({ seed, kind, samplingSeconds }));
  const sights = (await onThreads<Sight[]>(threads, tasks, onDone)).flat();
  return sights.sort((a, b) => b.wrongSeconds - a.wrongSeconds);
}
