import type { Figure } from '../../figure.js';
import { holmAdjusted } from '../../statistics/holm.js';

/**
 * Holm's adjustment over one kind of test of all features; what has no p keeps its reason and does not count as a question.
 * Source: as `holmAdjusted`.
 */
export function holmFigures(values: readonly Figure[]): Figure[] {
  const adjusted = holmAdjusted(values.filter((p) => typeof p === 'number'));
  let next = 0;
  return values.map((p) => (typeof p === 'number' ? adjusted[next++] : p));
}
