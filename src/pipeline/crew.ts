import { setMaxListeners } from 'node:events';
import { Piscina } from 'piscina';
import { abandonedGroup } from './failed-group.js';
import type { GroupOptions } from './group-options.js';
import type { GroupOutcome, StoredTask } from './stored-group.js';

/** What came of a task whose thread died: its patient failed, and no other. */
const abandoned = ({ task }: StoredTask, error: Error): GroupOutcome => ({
  parts: abandonedGroup(task.group, error),
  isReused: false,
  key: null,
  unkept: null,
});

/**
 * Works through tasks on threads; a thread that dies is replaced. What comes of a task is taken as soon as it is there,
 * and nothing is taken any more once taking has failed or the run was interrupted.
 *
 * @returns what taking gave, in the order of the tasks
 */
export async function reportSideBySide<T>(
  tasks: readonly StoredTask[],
  threads: number,
  { signal, take }: GroupOptions<T>,
): Promise<T[]> {
  const pool = new Piscina<StoredTask, GroupOutcome>({
    filename: new URL('./worker.js', import.meta.url).href,
    minThreads: threads,
    maxThreads: threads,
  });
  // A thread that dies with nothing to do harms nobody: it is replaced.
  pool.on('error', () => {});
  // Each task listens to it.
  if (signal) setMaxListeners(0, signal);
  const how = signal ? { signal } : {};
  let isStopped = false;
  const work = async (task: StoredTask): Promise<T> => {
    try {
      const outcome = await pool.run(task, how).catch((error: Error) => {
        if (isStopped || signal?.aborted) throw error;
        return abandoned(task, error);
      });
      if (isStopped) throw new Error('the run was stopped');
      return await take(outcome, task);
    } catch (error) {
      isStopped = true;
      throw error;
    }
  };
  // While a thread is replaced nothing else may keep the process from ending.
  const awake = setInterval(() => {}, 1 << 30);
  const taken = tasks.map(work);
  try {
    return await Promise.all(taken);
  } finally {
    clearInterval(awake);
    await pool.destroy();
    // Whoever cleans up behind this must not meet anybody who still writes.
    await Promise.allSettled(taken);
  }
}
