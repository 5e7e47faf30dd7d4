import type { GroupOutcome, StoredTask } from './stored-group.js';

/** How groups are worked through. */
export interface GroupOptions<T> {
  readonly signal?: AbortSignal | undefined;
  /** Called for what came of each task, as soon as it is there; throwing stops the run. */
  readonly take: (outcome: GroupOutcome, task: StoredTask) => Promise<T>;
}
