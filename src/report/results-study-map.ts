import { z } from 'zod';
import { count, figure, reason } from './results-figures.js';

const correlation = z.strictObject({
  rho: z.array(figure).describe("Spearman's; null where blank"),
  sameSignShare: z.array(figure).describe('Of draws of patients, null where there is no sign'),
  isStable: z.array(z.boolean()),
  zeroLine: z
    .array(z.strictObject({ intensityMmHg: z.number(), minutes: z.array(z.number()) }))
    .describe('Durations at which the correlation changes its sign'),
});

const map = z.strictObject({
  channel: z.enum(['icp', 'cpp']),
  side: z.enum(['above', 'below']),
  patients: count.describe('With an outcome and the channel in the primary window'),
  withoutChannel: count.describe('With an outcome and without the channel'),
  intensitiesMmHg: z.array(z.number()),
  durationsMinutes: z.array(z.number()),
  cellPatients: z.array(count).describe('Whose sampling can show episodes this short, by cell'),
  withEpisode: z.array(count).describe('Of them those who have such an episode, by cell'),
  count: correlation.describe('Of the number of episodes with outcome'),
  perDay: correlation.describe('Of their number per monitored day with outcome'),
  resamples: count,
  leastWithEpisode: count.describe('Fewer patients with such an episode leave a cell blank'),
  stableShare: z.number(),
  reason,
});

/**
 * The intensity-duration maps: the cell of intensity k and duration d stands at k x durations + d of each list.
 */
export const studyMaps = z.array(map);

export type StudyMapResult = z.infer<typeof map>;
