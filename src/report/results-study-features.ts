import { z } from 'zod';
import { ADJUSTERS } from '../summarize/study/analysis/study-patient.js';
import { estimate } from './results-estimate.js';
import { count, figure, figures, reason } from './results-figures.js';
import { bySide, spread } from './results-study-cohort.js';

const interval = figures(['lower', 'upper', 'p']);

const oddsRatio = {
  value: figure.describe('Odds ratio of an unfavourable outcome per step of the feature'),
  valueReason: reason,
  wald: interval.describe('By the standard error'),
  profile: interval.describe('By the likelihood itself: the one to read where the two differ'),
};

const logistic = z.strictObject({
  ...oddsRatio,
  method: z.enum(['maximum likelihood', 'penalised likelihood']),
  separation: z.enum(['complete', 'quasi-complete']).nullable(),
  patients: count,
  events: count.describe('With an unfavourable outcome'),
  eventsPerVariable: z.number().describe('Of the smaller group, by predictors'),
  hasFewEvents: z.boolean(),
});

const ordinal = z.strictObject({
  ...oddsRatio,
  patients: count,
  levels: count.describe('Levels of the scale that somebody has'),
});

/** A model, or null and why there is none. */
const models = {
  logistic: logistic.nullable(),
  logisticReason: reason,
  ordinal: ordinal.nullable().describe('One odds ratio of a worse outcome for all cuts of the scale'),
  ordinalReason: reason,
};

const cut = z.strictObject({
  from: z.number().describe('The lowest level on the better side'),
  worse: count,
  better: count,
  logistic: logistic.nullable().describe('Of an outcome on the worse side, unadjusted'),
  logisticReason: reason,
});

const adjuster = z.enum(ADJUSTERS);

const test = figures(['p', 'holmP']);

const described = { key: z.string(), title: z.string(), unit: z.string().describe('UCUM') };

const feature = z.strictObject({
  ...described,
  step: z.number().describe('Of which the odds ratios are, in the unit'),
  known: count,
  missing: z.array(z.strictObject({ reason: z.string(), count })),
  spread: bySide(spread),
  pairsHigher: figure.describe('W: pairs in which the patient with the unfavourable outcome has more'),
  pairsHigherReason: reason,
  rankSumMethod: z.enum(['exact', 'normal']).nullable(),
  area: estimate.describe(
    'Under the ROC curve, with DeLong interval: how often, of two patients, the one with the unfavourable outcome has more',
  ),
  ...models,
  cuts: z
    .array(cut)
    .describe(
      'At each cut of the scale by itself, rising: where they drift apart, one odds ratio for all cuts does not describe the feature',
    ),
  adjusted: z.strictObject({
    adjusters: z.array(adjuster),
    leftOut: z.array(z.strictObject({ adjuster, reason: z.string() })),
    complete: count,
    incomplete: count,
    ...models,
    unadjusted: figure.describe('Odds ratio of the feature alone in the complete patients'),
    unadjustedReason: reason,
  }),
  tests: z
    .strictObject({
      rankSum: test,
      logistic: test,
      ordinal: test,
      adjustedLogistic: test,
      adjustedOrdinal: test,
    })
    .describe('Raw and adjusted by Holm over the features; of regressions it is the likelihood ratio test'),
});

/** Whether the chosen features go with outcome. */
export const studyFeatures = z.array(feature);

const look = z.strictObject({
  look: z.enum(['main', 'notWithdrawn', 'stay']),
  title: z.string(),
  patients: count,
  unfavourable: count,
  features: z.array(
    z.strictObject({
      ...described,
      step: z.number(),
      known: count,
      area: estimate,
      rankSumP: figure,
      rankSumPReason: reason,
      odds: estimate.describe('Profile interval'),
      oddsPenalised: z.boolean(),
      adjustedOdds: estimate.describe('Profile interval'),
      adjustedOddsPenalised: z.boolean(),
    }),
  ),
});

/** The same question asked of other patients, and of other times. */
export const studyLooks = z.array(look);

export type StudyFeatureResult = z.infer<typeof feature>;
export type StudyModels = Pick<StudyFeatureResult, keyof typeof models>;
export type StudyLookResult = z.infer<typeof look>;
