import { createHash } from 'node:crypto';
import type { GroupTask } from './report-group.js';

/** Maps as their entries, and numbers that JSON does not know as their names. */
const plain = (_key: string, value: unknown): unknown =>
  value instanceof Map
    ? { map: [...value] }
    : typeof value === 'number' && !Number.isFinite(value)
      ? { number: String(value) }
      : value;

/**
 * Under which name the result of a task is stored: a SHA-256, in hex, of all that the result hangs on but for what
 * stands in the files. That is compared inside the entry, so that nothing has to be hashed where there is no entry.
 *
 * @param sizes of the task's files in bytes
 * @param program the identity of the program
 */
export function storeKey(
  { group, settings, logs, logResults, period, hasPages }: GroupTask,
  sizes: readonly number[],
  program: string,
): string {
  const files = group.files.map(({ name }, i) => ({ name, bytes: sizes[i] }));
  // Only a page tells what came of the logs of others.
  const onPage = hasPages ? logResults : null;
  const all = { program, id: group.id, files, settings, logs, onPage, period, hasPages };
  return createHash('sha256').update(JSON.stringify(all, plain)).digest('hex');
}
