import type { Interval } from '../../recording/interval.js';

/** What stands around an episode: enough before it to see how it began, and after it to see whether it came back. */
const BEFORE_MS = 10 * 60_000;
const AFTER_MS = 20 * 60_000;

/** The time that the strip of an episode covers, also where data end within it; milliseconds UTC. */
export const episodeStripWindow = ({ start, end }: Interval): Interval => ({
  start: start - BEFORE_MS,
  end: end + AFTER_MS,
});
