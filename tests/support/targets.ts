import type { EpisodeRule } from '../../src/segment/episodes.js';
import type { Targets } from '../../src/summarize/targets.js';

/** The adult values of the design, section 5. */
export const ADULT: Targets = {
  icpThresholdMmHg: 22,
  icpBandMmHg: [5, 15],
  cppFloorMmHg: 60,
  cppEdgesMmHg: [50, 60, 70],
};

/** ICP over 22 mmHg for 5 min; dips of 30 s and unknown stretches of 2 min do not end it. */
export const OVER_22: EpisodeRule = {
  threshold: 22,
  side: 'above',
  minSeconds: 300,
  dipSeconds: 30,
  bridgeSeconds: 120,
};

/** The same of CPP below 60 mmHg. */
export const UNDER_60: EpisodeRule = { ...OVER_22, threshold: 60, side: 'below' };
