import { setMaxListeners } from 'node:events';
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

const finish = (parts: PatientPart[], { onParts, onDone }: GroupOptions): PatientPart[] => {
  onParts?.(parts);
  onDone?.();
  return parts;
};

/** Reports all groups, on worker threads where there are several of both; results stand in the order of the tasks. */
export async function reportGroups(
  tasks: readonly GroupTask[],
  options: GroupOptions,
): Promise<PatientPart[]> {
  const threads = Math.min(options.threads ?? availableParallelism(), tasks.length);
  return threads <= 1 ? reportInTurn(tasks, options) : reportSideBySide(tasks, threads, options);
}

async function reportInTurn(tasks: readonly GroupTask[], options: GroupOptions): Promise<PatientPart[]> {
  // The drawing code takes long to load, and where worker threads draw it is not needed here.
  const { renderSvg } = await import('../report/charts/render.js');
  const parts: PatientPart[] = [];
  for (const task of tasks) {
    options.signal?.throwIfAborted();
    parts.push(...finish(await reportGroup(task, renderSvg), options));
  }
  return parts;
}

async function reportSideBySide(
  tasks: readonly GroupTask[],
  threads: number,
  options: GroupOptions,
): Promise<PatientPart[]> {
  const pool = new Piscina<GroupTask, PatientPart[]>({
    filename: new URL('./worker.js', import.meta.url).href,
    minThreads: threads,
    maxThreads: threads,
  });
  // Each task listens to it.
  if (options.signal) setMaxListeners(0, options.signal);
  const how = options.signal ? { signal: options.signal } : {};
  try {
    const reported = tasks.map(async (task) => finish(await pool.run(task, how), options));
    return (await Promise.all(reported)).flat();
  } finally {
    await pool.destroy();
  }
}
