import { availableParallelism } from 'node:os';
import { Piscina } from 'piscina';
import { type GroupTask, type PatientPart, reportGroup } from './report-group.js';

/** Told after each group of files, with the number that is done. */
export type Progress = (done: number, all: number) => void;

/** How groups are worked through. */
export interface GroupOptions {
  /** Threads; as many as the machine has where left out. */
  readonly threads?: number | undefined;
  readonly signal?: AbortSignal | undefined;
  /** Called once for all tasks together, in no particular order. */
  readonly onDone?: (() => void) | undefined;
  /** Called with each task's parts; throwing stops the run. */
  readonly onParts?: ((parts: readonly PatientPart[]) => void) | undefined;
}

/** Reports all groups, on worker threads where there are several of both; results stand in the order of the tasks. */
export async function reportGroups(
  tasks: readonly GroupTask[],
  options: GroupOptions,
): Promise<PatientPart[]> {
  const threads = Math.min(options.threads ?? availableParallelism(), tasks.length);
  const done = (parts: PatientPart[]): PatientPart[] => {
    options.onParts?.(parts);
    options.onDone?.();
    return parts;
  };
  if (threads <= 1) {
    const parts: PatientPart[] = [];
    for (const task of tasks) {
      options.signal?.throwIfAborted();
      parts.push(...done(await reportGroup(task)));
    }
    return parts;
  }
  const pool = new Piscina<GroupTask, PatientPart[]>({
    filename: new URL('./worker.js', import.meta.url).href,
    minThreads: threads,
    maxThreads: threads,
  });
  try {
    const abort = options.signal ? { signal: options.signal } : {};
    return (await Promise.all(tasks.map(async (task) => done(await pool.run(task, abort))))).flat();
  } finally {
    await pool.destroy();
  }
}
