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
    // A header is a slice of the text that it was read from, and would keep all of that; a copy stands for itself.
    const outcome = structuredClone(await reportOrReuse(task));
    taken.push(await take(outcome, task));
  }
  return taken;
}
