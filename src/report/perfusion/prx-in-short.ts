import { index } from '../reactivity-words.js';
import type { PerfusionResult } from '../results-perfusion.js';
import { duration, share } from '../words.js';

/** PRx as the sentence on top of a page has it: over how much of the time, its mean, and how long it was above its limit. */
export function prxInShort(
  { mean, hoursAboveLimit, computableShare, whyNone }: PerfusionResult['prx'],
  limit: number,
): string {
  if (mean === null || hoursAboveLimit === null) return `PRx cannot be computed: ${whyNone}.`;
  const where = `Where it could be computed (${share(computableShare)} of the time), PRx averaged ${index(mean)}`;
  if (hoursAboveLimit === 0) return `${where} and was never above ${limit}.`;
  const above = `${where} and was above ${limit} for ${duration(hoursAboveLimit)}`;
  return mean > limit
    ? `${above}: on average ICP followed arterial pressure, as where autoregulation is impaired.`
    : `${above}; on average it stayed under that limit.`;
}
