import type { EpisodeResult } from '../results-schema.js';

/** So many episodes stand on the morning page. */
export const MOST_EPISODES = 6;

/** The episodes of the largest dose, by time; of equal doses the longer, then the earlier. */
export const worstEpisodes = (episodes: readonly EpisodeResult[]): EpisodeResult[] =>
  [...episodes]
    .sort((a, b) => b.doseMmHgHours - a.doseMmHgHours || b.minutes - a.minutes)
    .slice(0, MOST_EPISODES)
    .sort((a, b) => Date.parse(a.start) - Date.parse(b.start));
