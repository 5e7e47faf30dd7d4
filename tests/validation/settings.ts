/** What is validated: every rule with its defaults, and the default rule of an episode. */
import type { CleanSettings } from '../../src/clean/clean.js';
import { RULES } from '../../src/clean/rules.js';
import type { EpisodeRule } from '../../src/segment/episodes.js';

export const DEFAULTS: CleanSettings = Object.fromEntries(
  RULES.map(({ name, parameters }) => [name, parameters.parse({}) as object]),
);

/** Threshold: Carney et al., Neurosurgery 2017;80:6-15. */
export const THRESHOLD_MMHG = 22;

export const EPISODES: EpisodeRule = {
  threshold: THRESHOLD_MMHG,
  side: 'above',
  minSeconds: 300,
  dipSeconds: 30,
  bridgeSeconds: 120,
};

/** True episodes at least so long and so high must be found; others are borderline. */
export const PLAIN = { minutes: 6, overThresholdMmHg: 2 };

/** A found episode over a true stretch that is nearly one is borderline. */
export const NEARLY: EpisodeRule = { ...EPISODES, threshold: 21, minSeconds: 240 };

/** Where the true dose is at least so much, its error is relative. */
export const LEAST_DOSE_MMHG_HOURS = 1;
