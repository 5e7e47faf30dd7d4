import type { PerfusionSummary } from '../summarize/perfusion/summarize-perfusion.js';
import type { RecordingResult } from './results-schema.js';
import { seconds } from './words.js';

/**
 * Why neither PRx nor its variant from minute data, nor what rests on them, can be judged: they correlate what was
 * measured at the same time, and clocks that are apart pair what was not. Null where nothing speaks against it, or where
 * no index could be computed.
 */
export function prxDoubt(
  { isApart, lagSeconds }: RecordingResult['clockLag'],
  { prx, minuteIndex }: Pick<PerfusionSummary, 'prx' | 'minuteIndex'>,
): string | null {
  if (!isApart || lagSeconds === null || (prx.mean ?? minuteIndex.mean) === null) return null;
  return `PRx cannot be judged: the clocks of ICP and MAP may be apart by ${seconds(Math.abs(lagSeconds) * 1000)}.`;
}
