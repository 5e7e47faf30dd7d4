import type { EpisodeRule } from '../../segment/episodes.js';
import { COMMON_PRACTICE, type Feature, GUIDELINE } from './feature.js';

const HOURS_PER_DAY = 24;

/** Features of episodes by the unit's rule. */
export function episodeFeatures({
  threshold,
  minSeconds,
  dipSeconds,
  bridgeSeconds,
}: EpisodeRule): Feature[] {
  const rule = `An episode is ICP > ${threshold} mmHg for ${minSeconds} s or more; dips of up to ${dipSeconds} s and unknown stretches of up to ${bridgeSeconds} s do not end it. What the edges of the window cut counts where what is left is long enough.`;
  const common = {
    source: `threshold: ${threshold === 22 ? GUIDELINE : 'as the pipeline file or its preset says'}; duration: ${COMMON_PRACTICE}`,
    coarsestSeconds: minSeconds / 3,
    needs: 'icp' as const,
  };
  return [
    {
      ...common,
      key: 'icpEpisodes',
      title: 'Episodes of raised ICP',
      unit: '{episodes}',
      definition: `Number of episodes in the window. ${rule}`,
      read: ({ episodeMinutes }) => episodeMinutes.length,
    },
    {
      ...common,
      key: 'icpEpisodesPerDay',
      title: 'Episodes of raised ICP per monitored day',
      unit: '{episodes}/d',
      definition: 'Number of episodes divided by the monitored hours of ICP, times 24.',
      read: ({ episodeMinutes, hours }) => (episodeMinutes.length / hours.icp) * HOURS_PER_DAY,
    },
    {
      ...common,
      key: 'icpLongestEpisodeMinutes',
      title: 'Longest episode of raised ICP',
      unit: 'min',
      definition: 'Duration of the longest episode inside the window; 0 where there is none.',
      read: ({ episodeMinutes }) => episodeMinutes.reduce((a, b) => Math.max(a, b), 0),
    },
  ];
}
