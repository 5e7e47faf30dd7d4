import { availableParallelism } from 'node:os';
import { reportSideBySide } from './crew.js';
import type { GroupOptions } from './group-options.js';
import { reportOrReuse, type StoredTask } from './stored-group.js';

/** Reports all groups, on worker threads where there are several of both; results stand in the order of the tasks. */
export async function reportGroups<T>(tasks: readonly StoredTask[], options: GroupOptions<T>): Promise<T[]> {
  const threads = Math.min(options.threads ?? availableParallelism(), tasks.length);
  return threads <= 1 ? reportInTurn(tasks, options) : reportSideBySide(tasks, threads, options);
}

async function reportInTurn<T>(
  tasks: readonly StoredTask[],
  { signal, take }: GroupOptions<T>,
): Promise<T[]> {
  const taken: T[] = [];
  for (const task of tasks) {
    signal?.throwIfAborted();
    taken.push(await take(await reportOrReuse(task), task));
  }
  return taken;
}
