import type { PerfusionResult } from '../results-schema.js';
import { duration, NONE, share } from '../words.js';

export type IndexResult = PerfusionResult['prx'];

/** What the variant from minute data is called, so that nobody takes it for PRx. */
export const MINUTE_INDEX = 'low-frequency index from minute data';

/** An index between -1 and 1, two decimals. */
export function indexText(value: number | null): string {
  if (value === null) return NONE;
  const text = value.toFixed(2);
  return Number(text) === 0 ? '0.00' : text.replace('-', '−');
}

/** PRx in a sentence: over how much of the time it could be computed, its mean, and how long it was above its limit. */
export function prxSentence(prx: IndexResult | Omit<IndexResult, 'hours'>, limit: number): string {
  const { mean, hoursAboveLimit, computableShare, whyNone } = prx;
  if (whyNone !== null || mean === null) {
    return `PRx could not be computed: ${whyNone ?? prx.meanReason ?? 'no window was complete'}.`;
  }
  const above =
    hoursAboveLimit === null
      ? ''
      : hoursAboveLimit === 0
        ? ` and was never above ${limit}`
        : ` and was above ${limit} for ${duration(hoursAboveLimit)}`;
  const means =
    (hoursAboveLimit ?? 0) === 0
      ? ''
      : mean > limit
        ? ': on average ICP followed arterial pressure, as it does where autoregulation is impaired'
        : ': for that time ICP followed arterial pressure, as it does where autoregulation is impaired';
  return `Where it could be computed (${share(computableShare)} of the time), PRx averaged ${indexText(mean)}${above}${means}.`;
}

/** The variant from minute data in a sentence, under its own name. */
export function minuteIndexSentence({ mean, computableShare, whyNone, ...rest }: IndexResult): string {
  if (whyNone !== null || mean === null) {
    return `The ${MINUTE_INDEX} could not be computed: ${whyNone ?? rest.meanReason ?? 'no window was complete'}.`;
  }
  return `The ${MINUTE_INDEX} averaged ${indexText(mean)} where it could be computed (${share(computableShare)} of the time); it has no limit of its own.`;
}
