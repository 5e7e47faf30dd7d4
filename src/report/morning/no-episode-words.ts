import type { RecordingResult } from '../results-schema.js';
import { duration } from '../words.js';

/** What it means that there is no episode: nothing about the time of which nobody knows. */
export const noEpisodeWords = (
  { cannotSay, monitoredHours }: RecordingResult,
  thresholdMmHg: number,
  minMinutes: number,
): string =>
  cannotSay.length > 0
    ? `None in the ${duration(monitoredHours.icp)} over which ICP is known; the data cannot say for the rest.`
    : `None: ICP was never above ${thresholdMmHg} mmHg for ${minMinutes} min without a break.`;
