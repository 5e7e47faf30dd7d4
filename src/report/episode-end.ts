import type { EpisodeResult, RecordingResult } from './results-schema.js';
import { timesOf } from './words.js';

/** Within so much of each other two times are the same on a page. */
const MINUTE_MS = 60_000;

/** How an episode ended: before the period did, cut off by a gap, or not at all as far as the data go. */
export type EpisodeEnd = 'over' | 'cut' | 'goingOn';

/** Whether the episode was over when the period, or the data before that, ended. */
export function episodeEnd(
  { end, openEnd }: Pick<EpisodeResult, 'end' | 'openEnd'>,
  result: Pick<RecordingResult, 'end' | 'period'>,
): EpisodeEnd {
  const last = Math.min(Date.parse(result.period.end), Date.parse(result.end));
  if (Date.parse(end) >= last - MINUTE_MS) return openEnd || Date.parse(end) > last ? 'goingOn' : 'over';
  return openEnd ? 'cut' : 'over';
}

/** `still above 22 mmHg at 07:00`, or `still above 22 mmHg when the data end at 06:40`. */
export function goingOnWords(result: Pick<RecordingResult, 'end' | 'period'>, thresholdMmHg: number): string {
  const at = timesOf(result.period);
  const isShort = Date.parse(result.end) < Date.parse(result.period.end) - MINUTE_MS;
  return isShort
    ? `still above ${thresholdMmHg} mmHg when the data end at ${at(result.end)}`
    : `still above ${thresholdMmHg} mmHg at ${at(result.period.end)}`;
}

/** `ICP was still above 22 mmHg at 07:00.`; null where it was not, as far as the episodes tell. */
export function goingOnNote(
  result: Pick<RecordingResult, 'end' | 'period' | 'episodes'>,
  thresholdMmHg: number,
): string | null {
  const isGoingOn = result.episodes.some((episode) => episodeEnd(episode, result) === 'goingOn');
  return isGoingOn ? `ICP was ${goingOnWords(result, thresholdMmHg)}.` : null;
}
