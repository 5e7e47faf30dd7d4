import { createHash } from 'node:crypto';
import { patientTasks, type TasksOf } from './patient-tasks.js';
import { storeKey } from './store-key.js';

/**
 * What results hang on beside the files of their patient and the program, as a SHA-256 in hex: two shards of which it differs
 * were not run on the same pipeline file, options and logs.
 */
export function shardSettings(of: TasksOf): string {
  const [{ task }] = patientTasks(of, [{ id: null, files: [] }], null);
  const logs = of.logs.accounts.map(({ file, sha256 }) => ({ file, sha256 }));
  return createHash('sha256')
    .update(`${storeKey(task, [], '')}\n${JSON.stringify(logs)}`)
    .digest('hex');
}
