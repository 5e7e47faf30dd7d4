import { z } from 'zod';
import { didYouMean } from '../ingest/tables/nearest-word.js';
import { Problem, shorten } from '../recording/problem.js';
import type { ChosenFeature } from '../summarize/study/analysis/feature-analysis.js';
import { ADJUSTERS } from '../summarize/study/analysis/study-patient.js';
import { FEATURE_LEVELS, type FeatureLevels } from '../summarize/study/feature-levels.js';
import { featuresOf } from '../summarize/study/features.js';
import type { StudySettings } from '../summarize/study/study-settings.js';
import type { SummarizeSettings } from '../summarize/summarize.js';

const number = (error: string) => z.number({ error });
const whole = (low: number, high: number) =>
  number('expected a whole number')
    .int({ error: 'expected a whole number' })
    .min(low, { error: `expected ${low} or more` })
    .max(high, { error: `expected ${high} or less` });

const levels = z
  .array(number('expected a pressure in mmHg'), { error: 'expected a list of pressures in mmHg' })
  .max(12, { error: 'expected 12 pressures or fewer' })
  .refine((all) => all.every((level, i) => i === 0 || level > all[i - 1]), {
    error: 'expected rising pressures, each once',
  });

const outcome = z
  .strictObject(
    {
      scale: z
        .enum(['gos', 'gose', 'mortality'], { error: 'expected gos, gose or mortality' })
        .optional()
        .describe('Where left out, that of the cohort table; a GOSE also tells the GOS and who lived'),
      favourableFrom: whole(1, 8)
        .optional()
        .describe(
          'The lowest level that counts as favourable: 4 of the GOS and 5 of the GOSE where left out',
        ),
      months: number('expected a number of months')
        .positive({ error: 'expected a number of months above 0' })
        .optional()
        .describe('After the injury; an outcome of another time counts as not known'),
      withinMonths: number('expected a number of months')
        .nonnegative({ error: 'expected 0 or more months' })
        .optional()
        .describe('How far an assessment may be away from it; 1 where left out'),
    },
    { error: 'expected {scale: gose, favourableFrom: 5, months: 6}' },
  )
  .refine(({ scale, favourableFrom }) => scale !== undefined || favourableFrom === undefined, {
    error: 'favourableFrom needs the scale that it is of: say scale beside it',
  })
  .refine(({ months, withinMonths }) => months !== undefined || withinMonths === undefined, {
    error: 'withinMonths needs the months that it is about: say months beside it',
  });

/** What an outcome study asks; all of it has defaults. */
export const studySchema = z
  .strictObject(
    {
      outcome: outcome.optional().describe('Which outcome, where it is cut in two, and when it was assessed'),
      primaryHours: number('expected a number of hours')
        .positive({ error: 'expected a number of hours above 0' })
        .max(24 * 60, { error: 'expected 1440 hours or less' })
        .optional()
        .describe('First hours of monitoring in which burden is asked about; 72 where left out'),
      leastHours: number('expected a number of hours')
        .nonnegative({ error: 'expected 0 or more hours' })
        .optional()
        .describe('Monitored hours of ICP in them that a patient needs to count; 12 where left out'),
      features: z
        .record(
          z.string(),
          number('expected a step in the unit of the feature').positive({ error: 'expected a step above 0' }),
          {
            error: 'expected features with their steps, as {icpMeanMmHg: 5}',
          },
        )
        .refine((all) => Object.keys(all).length > 0, { error: 'expected at least one feature' })
        .optional()
        .describe('Features that are asked about, each with the step that its odds ratios are of'),
      adjusters: z
        .array(z.enum(ADJUSTERS, { error: `expected ${ADJUSTERS.join(', ')}` }), {
          error: 'expected a list, as [ageYears, gcsMotor, pupilsReacting]',
        })
        .refine((all) => new Set(all).size === all.length, { error: 'expected each once' })
        .refine((all) => !(all.includes('gcsMotor') && all.includes('gcsTotal')), {
          error: 'expected gcsTotal or gcsMotor, which is in it',
        })
        .optional()
        .describe('What odds ratios are adjusted by; age, GCS and pupils where left out, [] for nothing'),
      ageFrom: z
        .enum(['over40', 'from40'], { error: 'expected over40 or from40' })
        .optional()
        .describe('How the criteria for monitoring count age'),
      levels: z
        .strictObject({ icpAboveMmHg: levels.optional(), cppBelowMmHg: levels.optional() })
        .optional()
        .describe('Pressures past which hours and doses are counted'),
      quantiles: whole(2, 10).optional().describe('Groups by burden in the dose response; 4 where left out'),
      resamples: whole(100, 10_000)
        .optional()
        .describe('Draws of patients for the intensity-duration maps; 1000 where left out'),
      optimalCpp: z
        .boolean({ error: 'expected true or false' })
        .optional()
        .describe('Look for optimal CPP (investigational), which takes long; true where left out'),
      patients: z
        .enum(['pseudonyms', 'numbers'], { error: 'expected pseudonyms or numbers' })
        .optional()
        .describe('What patients appear under in tables'),
    },
    {
      error: ({ code }) =>
        code === 'invalid_type'
          ? 'expected keys such as outcome and features, as {primaryHours: 72}'
          : undefined,
    },
  )
  .describe('What an outcome study asks, settled before the data are looked at');

export type StudyFileSettings = z.infer<typeof studySchema>;
type Rules = Pick<SummarizeSettings, 'icpEpisodes' | 'cppEpisodes'>;

const rising = (...levels: readonly number[]): number[] => [...new Set(levels)].sort((a, b) => a - b);

/** Those of the file or the usual ones, and the thresholds of the unit's own episodes among them. */
const levelsOf = (file: StudyFileSettings, { icpEpisodes, cppEpisodes }: Rules): FeatureLevels => ({
  icpAboveMmHg: rising(...(file.levels?.icpAboveMmHg ?? FEATURE_LEVELS.icpAboveMmHg), icpEpisodes.threshold),
  cppBelowMmHg: rising(...(file.levels?.cppBelowMmHg ?? FEATURE_LEVELS.cppBelowMmHg), cppEpisodes.threshold),
});

/**
 * Few, since each is another question: mean ICP, the doses past the unit's thresholds with the same per monitored hour
 * beside them, episodes a day, and PRx. Own convention, steps too.
 */
function usualFeatures({
  icpEpisodes: { threshold: icp },
  cppEpisodes: { threshold: cpp },
}: Rules): ChosenFeature[] {
  return [
    { key: 'icpMeanMmHg', step: 5 },
    { key: `icpHoursAbove${icp}`, step: 5 },
    { key: `icpShareAbove${icp}`, step: 0.1 },
    { key: `icpDoseAbove${icp}MmHgHours`, step: 10 },
    { key: `icpDosePerHourAbove${icp}MmHg`, step: 0.5 },
    { key: `cppDoseBelow${cpp}MmHgHours`, step: 10 },
    { key: `cppDosePerHourBelow${cpp}MmHg`, step: 0.5 },
    { key: 'prxMean', step: 0.1 },
  ];
}

function chosenOf(file: StudyFileSettings, levels: FeatureLevels, rules: Rules): ChosenFeature[] {
  if (!file.features) return usualFeatures(rules);
  const known = featuresOf(levels, rules.icpEpisodes).map(({ key }) => key);
  return Object.entries(file.features).map(([key, step]) => {
    if (known.includes(key)) return { key, step };
    throw new Problem(
      `study.features: "${shorten(key)}" is none of the features`,
      `${didYouMean(key, known)}Hours and doses past other pressures need them in study.levels; README.md tells how features are named.`,
    );
  });
}

/** What a pipeline file says of a study, with what it leaves out filled in. */
export function studyOf(file: StudyFileSettings = {}, rules: Rules): StudySettings {
  const levels = levelsOf(file, rules);
  const { outcome = {}, adjusters } = file;
  const primaryHours = file.primaryHours ?? 72;
  const leastHours = file.leastHours ?? 12;
  if (leastHours > primaryHours) {
    throw new Problem(
      `study: leastHours of ${leastHours} is more than the ${primaryHours} h of the primary window`,
      'No patient could count: make leastHours smaller, or primaryHours larger.',
    );
  }
  return {
    outcome: {
      scale: outcome.scale ?? null,
      favourableFrom: outcome.favourableFrom ?? null,
      months: outcome.months ?? null,
      withinMonths: outcome.withinMonths ?? 1,
    },
    primaryHours,
    leastHours,
    levels,
    hasOptimal: file.optimalCpp ?? true,
    ageFrom: file.ageFrom ?? 'over40',
    chosen: chosenOf(file, levels, rules),
    areChosenUsual: file.features === undefined,
    adjusters: adjusters ?? null,
    quantiles: file.quantiles ?? 4,
    resamples: file.resamples ?? 1000,
    hasPseudonyms: (file.patients ?? 'pseudonyms') === 'pseudonyms',
  };
}

/** The same in the words of the pipeline file, for results.json. */
export const studyInWords = ({ outcome, chosen, adjusters, ...study }: StudySettings): object => ({
  outcome: {
    ...(outcome.scale === null ? {} : { scale: outcome.scale }),
    ...(outcome.favourableFrom === null ? {} : { favourableFrom: outcome.favourableFrom }),
    ...(outcome.months === null ? {} : { months: outcome.months, withinMonths: outcome.withinMonths }),
  },
  primaryHours: study.primaryHours,
  leastHours: study.leastHours,
  features: Object.fromEntries(chosen.map(({ key, step }) => [key, step])),
  ...(adjusters === null ? {} : { adjusters }),
  ageFrom: study.ageFrom,
  levels: study.levels,
  quantiles: study.quantiles,
  resamples: study.resamples,
  optimalCpp: study.hasOptimal,
  patients: study.hasPseudonyms ? 'pseudonyms' : 'numbers',
});
