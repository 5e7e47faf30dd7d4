import type { GroupOutcome, StoredTask } from './stored-group.js';

/** How groups are worked through. */
export interface GroupOptions<T> {
  /** Threads; as many as the machine has where left out. */
  readonly threads?: number | undefined;
  readonly signal?: AbortSignal | undefined;
  /** Called for what came of each task, as soon as it is there; throwing stops the run. */
  readonly take: (outcome: GroupOutcome, task: StoredTask) => Promise<T>;
}
