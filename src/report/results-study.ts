import { z } from 'zod';
import { ADJUSTERS } from '../summarize/study/analysis/study-patient.js';
import { count } from './results-figures.js';
import {
  studyCriteria,
  studyDays,
  studyFlow,
  studyOutcome,
  studyTableOne,
  studyWindows,
} from './results-study-cohort.js';
import { studyDose } from './results-study-dose.js';
import { studyFeatures, studyLooks } from './results-study-features.js';
import { studyMaps } from './results-study-map.js';

/** What was asked, settled before the data were looked at. */
const asked = z.strictObject({
  primaryHours: z.number(),
  leastHours: z.number(),
  chosen: z.array(
    z.strictObject({
      key: z.string(),
      title: z.string(),
      unit: z.string(),
      step: z.number(),
      definition: z.string(),
      source: z.string().describe('Of the definition'),
    }),
  ),
  areChosenUsual: z.boolean().describe('True where the pipeline file names none'),
  adjusters: z.array(z.enum(ADJUSTERS)),
  areAdjustersUsual: z.boolean(),
  hasOptimalCpp: z.boolean(),
  episodes: z.strictObject({ thresholdMmHg: z.number(), minSeconds: z.number() }),
});

/** The outcome study of a cohort: what its page shows. */
export const study = z.strictObject({
  sentence: z.string(),
  patientsAs: z.enum(['pseudonyms', 'numbers']).describe('What patients appear under in tables'),
  asked,
  words: z
    .array(z.strictObject({ about: z.string(), sentence: z.string() }))
    .describe('What has to be known before the figures are read'),
  patients: count.describe('Of the main analysis'),
  flow: studyFlow,
  criteria: studyCriteria,
  windows: studyWindows,
  outcome: studyOutcome,
  tableOne: studyTableOne,
  features: studyFeatures,
  looks: studyLooks,
  dose: studyDose,
  maps: studyMaps,
  days: studyDays,
});

export type StudyResult = z.infer<typeof study>;
