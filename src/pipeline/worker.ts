import { type GroupOutcome, reportOrReuse, type StoredTask } from './stored-group.js';

/** What a worker thread does with a task. */
export default (task: StoredTask): Promise<GroupOutcome> => reportOrReuse(task);
