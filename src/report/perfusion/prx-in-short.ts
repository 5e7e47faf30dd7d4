import { index } from '../reactivity-words.js';
import type { PerfusionResult } from '../results-perfusion.js';
import { share } from '../words.js';
import { plainWhy } from './plain-why.js';

/** PRx above its limit for more of the time than this, and on average: as where autoregulation is impaired. Own convention. */
const MOSTLY = 0.5;
/** Above it for no more of the time than this, and under it on average: mostly under it. Own convention. */
const SELDOM = 0.25;

/** What mean and share say together; nothing where they do not agree, since an average hides half of the time. */
function verdict(mean: number, part: number, limit: number): string {
  if (mean > limit && part > MOSTLY)
    return ': ICP followed arterial pressure for most of it, as where autoregulation is impaired.';
  return mean <= limit && part <= SELDOM ? '; it was mostly under that limit.' : '.';
}

/** PRx as the sentence on top of a page has it: its mean, its share of time above the limit, and of how much time. */
export function prxInShort(
  { mean, shareAboveLimit, computableShare, whyNone }: PerfusionResult['prx'],
  limit: number,
): string {
  if (mean === null || shareAboveLimit === null)
    return `PRx cannot be computed: ${plainWhy(whyNone, 'ICP or MAP')}.`;
  const time = `the time that it could be computed (${share(computableShare)} of the whole)`;
  return shareAboveLimit === 0
    ? `PRx averaged ${index(mean)} and was never above ${limit} in ${time}.`
    : `PRx averaged ${index(mean)} and was above ${limit} for ${share(shareAboveLimit)} of ${time}${verdict(mean, shareAboveLimit, limit)}`;
}
