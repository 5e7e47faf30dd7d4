import type { EpisodeRule } from '../../segment/episodes.js';
import { episodeFeatures } from './episode-features.js';
import { COMMON_PRACTICE, DOSE_SECONDS, type Feature, OWN_CONVENTION } from './feature.js';
import { FEATURE_LEVELS, type FeatureLevels } from './feature-levels.js';
import { levelFeatures } from './level-features.js';
import { REACTIVITY_FEATURES } from './reactivity-features.js';

/** Means over 5 min, as a rule of that length. */
const HIGHLIGHT_SECONDS = 100;

const monitored = (channel: 'icp' | 'map' | 'cpp', what: string): Feature => ({
  key: `${channel}MonitoredHours`,
  title: `Monitored hours of ${channel.toUpperCase()}`,
  unit: 'h',
  definition: `Length of the time over which ${what}, after cleaning.`,
  source: OWN_CONVENTION,
  coarsestSeconds: null,
  needs: null,
  read: ({ map, hours }) => (channel === 'map' ? map.hours : hours[channel]),
});

const mean = (channel: 'icp' | 'cpp'): Feature => ({
  key: `${channel}MeanMmHg`,
  title: `Mean ${channel.toUpperCase()}`,
  unit: 'mm[Hg]',
  definition: `Integral of ${channel.toUpperCase()} over the monitored time, divided by its length.`,
  source: COMMON_PRACTICE,
  coarsestSeconds: DOSE_SECONDS,
  needs: channel,
  read: (measures) => (channel === 'icp' ? measures.icp.sums : measures.cpp).mean,
});

const share = (part: 'removed' | 'suspect', definition: string): Feature => ({
  key: `icp${part === 'removed' ? 'Removed' : 'Suspect'}Share`,
  title: `Share of ICP that is ${part === 'removed' ? 'removed by cleaning' : 'suspect'}`,
  unit: '1',
  definition,
  source: OWN_CONVENTION,
  coarsestSeconds: null,
  needs: 'exportedIcp',
  read: (measures) => Math.min(1, measures[`${part}Hours`] / measures.exportedHours),
});

/**
 * The features of burden, in the order of tables. No feature says whether more of it is better or worse: that is what a
 * study asks.
 *
 * @param rule of the unit's episodes of ICP
 */
export const featuresOf = (
  { icpAboveMmHg, cppBelowMmHg }: FeatureLevels,
  rule: EpisodeRule,
): readonly Feature[] => [
  monitored('icp', 'ICP is known'),
  monitored('map', 'arterial pressure is known'),
  monitored('cpp', 'ICP and arterial pressure are known at the same instant'),
  mean('icp'),
  {
    key: 'icpMedianMmHg',
    title: 'Median ICP',
    unit: 'mm[Hg]',
    definition: 'ICP at or under which half of the monitored time lies.',
    source: COMMON_PRACTICE,
    coarsestSeconds: DOSE_SECONDS,
    needs: 'icp',
    read: ({ icp }) => icp.median ?? { reason: 'it was not asked for' },
  },
  {
    key: 'icpHighest5MinMmHg',
    title: 'Highest 5-min mean of ICP',
    unit: 'mm[Hg]',
    definition:
      'Highest mean of ICP over 5 min that begin on a whole UTC minute, lie in the window and are known for at least half.',
    source: OWN_CONVENTION,
    coarsestSeconds: HIGHLIGHT_SECONDS,
    needs: 'icp',
    read: ({ highestIcp }) => highestIcp,
  },
  ...icpAboveMmHg.flatMap((level) => levelFeatures('icp', 'above', level)),
  ...episodeFeatures(rule),
  mean('cpp'),
  {
    key: 'cppLowest5MinMmHg',
    title: 'Lowest 5-min mean of CPP',
    unit: 'mm[Hg]',
    definition:
      'Lowest mean of CPP over 5 min that begin on a whole UTC minute, lie in the window and are known for at least half.',
    source: OWN_CONVENTION,
    coarsestSeconds: HIGHLIGHT_SECONDS,
    needs: 'cpp',
    read: ({ lowestCpp }) => lowestCpp,
  },
  ...cppBelowMmHg.flatMap((level) => levelFeatures('cpp', 'below', level)),
  ...REACTIVITY_FEATURES,
  share(
    'removed',
    'Hours of ICP as exported that a cleaning rule or a person removed, divided by the hours of ICP as exported.',
  ),
  share(
    'suspect',
    'Hours of ICP as exported that are suspect, up or down, and not removed, divided by the hours of ICP as exported.',
  ),
  {
    key: 'therapyIntensity',
    title: 'Therapy intensity, as the table gives it',
    unit: '1',
    definition:
      'The score of the cohort table, which is of the patient and the same in each window. Which scale it is, and over which days, the table has to say.',
    source: OWN_CONVENTION,
    coarsestSeconds: null,
    needs: null,
    read: ({ therapyIntensity }) => therapyIntensity,
  },
];

/** ICP above 22 mmHg for 5 min, as the adult preset has it. */
const ADULT_RULE: EpisodeRule = {
  threshold: 22,
  side: 'above',
  minSeconds: 300,
  dipSeconds: 30,
  bridgeSeconds: 120,
};

/** The features with the thresholds and the rule of adults. */
export const FEATURES: readonly Feature[] = featuresOf(FEATURE_LEVELS, ADULT_RULE);
