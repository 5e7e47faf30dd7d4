import type { Feature } from '../../summarize/study/feature.js';
import { featuresOf } from '../../summarize/study/features.js';
import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyResult } from '../results-study.js';

/** What people call a feature. */
export type DescribedFeature = Pick<Feature, 'key' | 'title' | 'unit'>;

/** The features of a study by key. */
export function describedFeatures({
  settings,
  icpEpisodes,
}: Pick<StudyCohort, 'settings' | 'icpEpisodes'>): ReadonlyMap<string, DescribedFeature> {
  return new Map(
    featuresOf(settings.levels, icpEpisodes).map(({ key, title, unit }) => [key, { key, title, unit }]),
  );
}

/** Title and unit of a feature. @throws Error where the study has no such feature: a fault of the program */
export function described(
  cohort: Pick<StudyCohort, 'settings' | 'icpEpisodes'>,
  key: string,
): DescribedFeature {
  const found = describedFeatures(cohort).get(key);
  if (!found) throw new Error(`The study has no feature ${key}`);
  return found;
}

/** How the chosen features are defined, in the order that they are named in. */
function chosenResult({ settings, icpEpisodes }: StudyCohort): StudyResult['asked']['chosen'] {
  const features = featuresOf(settings.levels, icpEpisodes);
  return settings.chosen.flatMap((chosen) =>
    features
      .filter(({ key }) => key === chosen.key)
      .map(({ key, title, unit, definition, source }) => ({
        key,
        title,
        unit,
        step: chosen.step,
        definition,
        source,
      })),
  );
}

/** What was asked of a cohort. */
export function askedResult(cohort: StudyCohort): StudyResult['asked'] {
  const { settings, adjusters, icpEpisodes } = cohort;
  return {
    primaryHours: settings.primaryHours,
    leastHours: settings.leastHours,
    chosen: chosenResult(cohort),
    areChosenUsual: settings.areChosenUsual,
    adjusters: [...adjusters],
    areAdjustersUsual: settings.adjusters === null,
    hasOptimalCpp: settings.hasOptimal,
    episodes: { thresholdMmHg: icpEpisodes.threshold, minSeconds: icpEpisodes.minSeconds },
  };
}
