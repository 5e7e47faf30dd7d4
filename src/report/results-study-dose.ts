import { z } from 'zod';
import { estimate } from './results-estimate.js';
import { count, reason } from './results-figures.js';

const likelihoodRatio = z.strictObject({ chiSquare: z.number(), freedom: count, p: z.number() });

const group = z.strictObject({
  from: z.number(),
  to: z.number(),
  median: z.number().describe('Of the feature in these patients'),
  patients: count,
  unfavourable: count,
  share: estimate.describe("Of unfavourable outcomes, with Wilson's interval"),
});

const curve = z.strictObject({
  knots: z.array(z.number()),
  points: z
    .array(z.strictObject({ at: z.number(), share: z.number(), lower: z.number(), upper: z.number() }))
    .describe('Chance of an unfavourable outcome; each interval holds by itself'),
  association: likelihoodRatio.describe('Against one chance for all'),
  nonLinearity: likelihoodRatio.describe('Against a straight line of log odds'),
  eventsPerVariable: z.number(),
  hasFewEvents: z.boolean(),
});

const doseResponse = z.strictObject({
  key: z.string(),
  title: z.string(),
  unit: z.string().describe('UCUM'),
  known: count,
  groups: z.array(group).nullable(),
  groupsReason: reason,
  hasZeroGroup: z.boolean(),
  remarks: z.array(z.string()),
  curve: curve.nullable().describe('Logistic regression on a restricted cubic spline'),
  curveReason: reason,
});

/** How outcome goes along with burden. */
export const studyDose = z.array(doseResponse);

export type StudyDoseResult = z.infer<typeof doseResponse>;
