import type { IndexFigures } from '../summarize/perfusion/index-figures.js';
import { duration, NONE, share } from './words.js';

/** An index of reactivity, two decimals. */
export function index(value: number | null): string {
  if (value === null) return NONE;
  const text = value.toFixed(2);
  return Number(text) === 0 ? '0.00' : text.replace('-', '−');
}

/** What cannot be judged is told in brackets. */
const doubted = (doubt: string, { mean, computableHours, computableShare }: IndexFigures): string =>
  `${doubt} As the clocks stand it comes to (${index(mean)}) over ${duration(computableHours)} (${share(computableShare)} of the period).`;

/**
 * What PRx says of the period, in plain words.
 *
 * @param doubt why it cannot be judged, as a sentence; null where it can
 */
export function prxSentence(prx: IndexFigures, limit: number, doubt: string | null): string {
  const { mean, computableHours, computableShare, hoursAboveLimit, shareAboveLimit, whyNone } = prx;
  if (whyNone !== null) return `PRx cannot be computed: ${whyNone}.`;
  if (doubt !== null) return doubted(doubt, prx);
  const above =
    hoursAboveLimit === 0
      ? `never above ${limit}`
      : `above ${limit} for ${duration(hoursAboveLimit)} (${share(shareAboveLimit ?? 0)} of that time)`;
  return `PRx could be computed for ${duration(computableHours)} (${share(computableShare)} of the period). It averaged ${index(mean)} and was ${above}; above it ICP follows arterial pressure, as where autoregulation is impaired.`;
}

/** What the variant from minute data says of the period; `doubt` as for PRx. */
export function minuteIndexSentence(figures: IndexFigures, doubt: string | null): string {
  const { mean, computableHours, computableShare, whyNone } = figures;
  if (whyNone !== null) return `The low-frequency index from minute data cannot be computed: ${whyNone}.`;
  if (doubt !== null)
    return doubted(doubt.replace('PRx', 'The low-frequency index from minute data'), figures);
  return `The low-frequency index from minute data could be computed for ${duration(computableHours)} (${share(computableShare)} of the period) and averaged ${index(mean)}. It is not PRx, and the limit of PRx does not hold for it.`;
}
