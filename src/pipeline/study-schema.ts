import { z } from 'zod';
import type { OutcomeScale } from '../ingest/tables/outcome.js';
import { Problem, shorten } from '../recording/problem.js';
import type { ChosenFeature } from '../summarize/study/analysis/feature-analysis.js';
import { cutsOf } from '../summarize/study/analysis/outcome-groups.js';
import { ADJUSTERS } from '../summarize/study/analysis/study-patient.js';
import { FEATURE_LEVELS, type FeatureLevels } from '../summarize/study/feature-levels.js';
import { featuresOf } from '../summarize/study/features.js';
import type { StudySettings } from '../summarize/study/study-settings.js';
import type { SummarizeSettings } from '../summarize/summarize.js';
import { featureHint } from './feature-hint.js';

const number = (error: string) => z.number({ error });
const whole = (low: number, high: number) =>
  number('expected a whole number')
    .int({ error: 'expected a whole number' })
    .min(low, { error: `expected ${low} or more` })
    .max(high, { error: `expected ${high} or less` });

/** The feature that rests on optimal CPP. */
const OF_OPTIMAL = 'cppLessOptimalMmHg';

/** In a shorter window doses and hours tell next to nothing. Own convention. */
const LEAST_PRIMARY_HOURS = 1;

const MOST_LEVELS = 12;
const A_PRESSURE = 'expected a pressure from 0 to 150 mmHg';

const levels = z
  .array(number(A_PRESSURE).min(0, { error: A_PRESSURE }).max(150, { error: A_PRESSURE }), {
    error: 'expected a list of pressures in mmHg',
  })
  .max(MOST_LEVELS, { error: `expected ${MOST_LEVELS} pressures or fewer` })
  .refine((all) => all.every((level, i) => i === 0 || level > all[i - 1]), {
    error: 'expected rising pressures, each once',
  });

/** What `favourableFrom` may be on a scale, as a message says it. */
function cutExpected(scale: OutcomeScale): string {
  const { from, to } = cutsOf(scale);
  return from === to
    ? `expected ${from}, which is alive: nothing else can be favourable in mortality`
    : `expected a level of the ${scale.toUpperCase()} from ${from} to ${to}`;
}

const outcome = z
  .strictObject(
    {
      scale: z
        .enum(['gos', 'gose', 'mortality'], { error: 'expected gos, gose or mortality' })
        .optional()
        .describe('Where left out, that of the cohort table; a GOSE also tells the GOS and who lived'),
      favourableFrom: number('expected a level of the scale, a whole number')
        .int({ error: 'expected a level of the scale, a whole number' })
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
    error:
      'expected the scale that favourableFrom is a level of beside it, as {scale: gose, favourableFrom: 5}',
  })
  .superRefine(({ scale, favourableFrom: from }, { addIssue }) => {
    if (scale === undefined || from === undefined) return;
    const cuts = cutsOf(scale);
    if (from >= cuts.from && from <= cuts.to) return;
    addIssue({ code: 'custom', path: ['favourableFrom'], message: cutExpected(scale) });
  })
  .refine(({ months, withinMonths }) => months !== undefined || withinMonths === undefined, {
    error: 'expected the months that withinMonths is about beside it, as {months: 6, withinMonths: 1}',
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
        .describe('Look for optimal CPP (investigational), about a fifth of the work; true where left out'),
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

/**
 * Those of the file or the usual ones, and the thresholds of the unit's own episodes among them.
 *
 * @throws Problem where they are more than a file may give: the effective values have to be a file too
 */
function levelsOf(file: StudyFileSettings, { icpEpisodes, cppEpisodes }: Rules): FeatureLevels {
  const given = (key: keyof FeatureLevels, { threshold }: Rules['icpEpisodes']): number[] => {
    const all = rising(...(file.levels?.[key] ?? FEATURE_LEVELS[key]), threshold);
    if (all.length <= MOST_LEVELS) return all;
    throw new Problem(
      `study.levels.${key}: ${all.length} pressures with ${threshold} mmHg, the threshold of episodes, which is always counted`,
      `Give ${MOST_LEVELS} or fewer, that one among them.`,
    );
  };
  return {
    icpAboveMmHg: given('icpAboveMmHg', icpEpisodes),
    cppBelowMmHg: given('cppBelowMmHg', cppEpisodes),
  };
}

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

/** @throws Problem where a feature is none, or is not computed */
function chosenOf(file: StudyFileSettings, levels: FeatureLevels, rules: Rules): ChosenFeature[] {
  if (!file.features) return usualFeatures(rules);
  const known = featuresOf(levels, rules.icpEpisodes).map(({ key }) => key);
  const unknown = Object.keys(file.features).find((key) => !known.includes(key));
  if (unknown !== undefined) {
    const what = `study.features: "${shorten(unknown)}" is none of the features`;
    throw new Problem(what, featureHint(unknown, known, levels));
  }
  if (OF_OPTIMAL in file.features && file.optimalCpp === false) {
    throw new Problem(
      `study.features: ${OF_OPTIMAL} is asked about, and optimalCpp: false keeps it from being computed`,
      'Take one of the two out.',
    );
  }
  return Object.entries(file.features).map(([key, step]) => ({ key, step }));
}

/** What a pipeline file says of a study, with what it leaves out filled in. */
export function studyOf(file: StudyFileSettings = {}, rules: Rules): StudySettings {
  const levels = levelsOf(file, rules);
  const { outcome = {}, adjusters } = file;
  const primaryHours = file.primaryHours ?? 72;
  const leastHours = file.leastHours ?? 12;
  if (primaryHours < LEAST_PRIMARY_HOURS) {
    throw new Problem(
      `study: primaryHours of ${primaryHours} is a window of less than an hour, and burden is counted in hours`,
      `Make it ${LEAST_PRIMARY_HOURS} or more; 72 is usual here.`,
    );
  }
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
