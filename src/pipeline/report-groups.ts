import type { Crew } from './crew.js';
import type { GroupOptions } from './group-options.js';
import { reportOrReuse, type StoredTask } from './stored-group.js';

/** Reports all groups, on the threads of a crew where there is one; results stand in the order of the tasks. */
export function reportGroups<T>(
  tasks: readonly StoredTask[],
  crew: Crew | null,
  options: GroupOptions<T>,
): Promise<T[]> {
  return crew ? crew.report(tasks, options) : reportInTurn(tasks, options);
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
