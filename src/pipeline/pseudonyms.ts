import { createHash } from 'node:crypto';

/**
 * Pseudonyms in an order that tells nothing of the patients, neither that of their numbers nor of their stays, and is the
 * same in each run on the same patients. Who knows all numbers could find the order again: they are no secret code.
 */
export function pseudonymsOf(ids: readonly string[]): Map<string, string> {
  const hash = (id: string): string => createHash('sha256').update(`cistern ${id}`).digest('hex');
  const sorted = [...new Set(ids)].sort((a, b) => (hash(a) < hash(b) ? -1 : 1));
  const digits = Math.max(2, String(sorted.length).length);
  return new Map(sorted.map((id, i) => [id, `P${String(i + 1).padStart(digits, '0')}`]));
}
