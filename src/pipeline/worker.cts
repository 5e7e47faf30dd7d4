import type { GroupOutcome, StoredTask } from './stored-group.js' with { 'resolution-mode': 'import' };

/**
 * What a worker thread does with a task. It is CommonJS, which the pool takes in at once, and loads the program beside
 * that: a thread that is ended while it takes in modules in the pool's own way takes the whole process down (Node 20).
 */
const loaded = import('./stored-group.js');
// A task tells of it; without one nobody needs the thread.
loaded.catch(() => {});

const work = async (task: StoredTask): Promise<GroupOutcome> => (await loaded).reportOrReuse(task);

export = work;
