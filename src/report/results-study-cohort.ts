import { z } from 'zod';
import { count, figure, figures, reason } from './results-figures.js';

/** Median and quartiles, with how many are known. */
export const spread = figures(['median', 'lowerQuartile', 'upperQuartile']).extend({
  known: count,
  missing: count,
});

export const bySide = <T extends z.ZodType>(of: T) => z.strictObject({ favourable: of, unfavourable: of });

const STEPS = ['noExports', 'notRead', 'noIcp', 'littleMonitored', 'noOutcome', 'withdrawn'] as const;

/** Who is in and who is out. */
export const studyFlow = z.strictObject({
  inTable: count.describe('Patients of the cohort table'),
  rowsSetAside: count.describe('Rows of the table that could not be used; they are none of its patients'),
  steps: z
    .array(
      z.strictObject({
        step: z.enum(STEPS),
        title: z.string(),
        excluded: count,
        left: count.describe('Patients who passed it'),
      }),
    )
    .describe(
      'Each patient is counted for the first step that was not passed; those of the last are in the main analysis and not in the one without withdrawals',
    ),
  withOutcome: count.describe('Patients of the main analysis'),
  notWithdrawn: count.describe('Of them those whose treatment is not known to have been withdrawn'),
  withdrawalUnknown: count.describe('Of those, how many of whom the table does not say'),
  exportsWithoutRow: count.describe('Patients with exports who are not in the table'),
});

/** The criteria for monitoring ICP, over the patients of the table. */
export const studyCriteria = z.strictObject({
  ageFrom: z.enum(['over40', 'from40']),
  met: count,
  notMet: count,
  cannotTell: count,
  missing: z
    .array(z.strictObject({ field: z.string(), patients: count }))
    .describe('Blank fields that could decide, and of how many patients; the most first'),
});

/** The time that counts, over the patients of the main analysis. */
export const studyWindows = z.strictObject({
  primaryHours: z.number(),
  monitoredHours: bySide(spread).describe('Of ICP in the primary window'),
  endsBy: z
    .array(z.strictObject({ kind: z.string(), title: z.string(), patients: count }))
    .describe('What ends the primary window'),
  remarks: z
    .array(z.strictObject({ remark: z.string(), patients: count }))
    .describe('What the table and the exports leave open, the most frequent first'),
});

const distribution = { counts: z.array(z.strictObject({ value: z.number(), count })), missing: count };

const column = z.strictObject({
  patients: count,
  ageYears: spread,
  gcsMotor: spread.extend(distribution),
  gcsTotal: spread.extend(distribution),
  pupilsReacting: z.strictObject(distribution),
  therapyIntensity: spread,
  monitoredHours: spread.describe('Of ICP in the primary window'),
  died: z
    .strictObject({ yes: count, no: count, missing: count })
    .describe('By the columns of brain death and of deaths, or by the outcome where it counts'),
  craniectomy: z.strictObject({ yes: count, no: count, missing: count }),
  withdrawn: z.strictObject({ yes: count, no: count, missing: count }),
});

/** Who the patients are. */
export const studyTableOne = z
  .strictObject({
    favourable: column,
    unfavourable: column,
    withoutOutcome: column.describe('Monitored for long enough, and without an outcome'),
    all: column.describe('The three together'),
  })
  .describe('By outcome; nothing is tested, since the groups are what was found and not drawn by lot');

/** The outcome of the patients of the main analysis. */
export const studyOutcome = z.strictObject({
  scale: z.enum(['gos', 'gose', 'mortality']),
  scaleIsOfTable: z.boolean().describe('True where the pipeline file names none'),
  favourableFrom: z.number(),
  words: bySide(z.string()),
  cutSource: z.string(),
  months: figure.describe('Months after the injury that are asked for; null where any time will do'),
  withinMonths: z.number().describe('How far an assessment may be away from it'),
  assessed: z
    .strictObject({
      inTime: count,
      otherTime: count.describe('Their outcome counts as not known'),
      unknown: count.describe('Nothing says when; their outcome counts'),
    })
    .describe('Of the patients of the table with an outcome; all are in time where no time is asked for'),
  levels: z.array(z.strictObject({ code: z.number(), title: z.string(), isFavourable: z.boolean(), count })),
  counts: bySide(count),
  onAnotherScale: count.describe(
    'Patients who were monitored for long enough and whose outcome is on a scale that does not tell that of the study',
  ),
});

/** Median and quartiles of a feature on each day since injury, by outcome. */
export const studyDays = z.strictObject({
  features: z
    .array(
      z.strictObject({
        key: z.string(),
        title: z.string(),
        unit: z.string(),
        days: z
          .array(z.strictObject({ day: count, ...bySide(spread).shape }))
          .describe(
            'Known and missing are of those monitored on the day; days on which nobody has a value are left out',
          ),
      }),
    )
    .describe('The chosen ones; in the place of a total the same per monitored hour or day'),
  withDays: count.describe('Patients of the main analysis whose days since injury can be told'),
  noDays: z
    .array(z.strictObject({ why: z.string(), patients: count }))
    .describe('Why they cannot be told of the others'),
  reason,
});

export type StudyFlowResult = z.infer<typeof studyFlow>;
export type StudyCriteriaResult = z.infer<typeof studyCriteria>;
export type StudyWindowsResult = z.infer<typeof studyWindows>;
export type StudyTableOneResult = z.infer<typeof studyTableOne>;
export type StudyOutcomeResult = z.infer<typeof studyOutcome>;
export type StudyDaysResult = z.infer<typeof studyDays>;
export type SpreadResult = z.infer<typeof spread>;
