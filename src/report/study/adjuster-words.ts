import type { StudyFeatureResult } from '../results-study-features.js';

type Adjuster = StudyFeatureResult['adjusted']['adjusters'][number];

/** What people call what an association is adjusted by. */
export const ADJUSTER_WORDS: Readonly<Record<Adjuster, string>> = {
  ageYears: 'age',
  gcsMotor: 'motor part of the GCS',
  gcsTotal: 'total of the GCS',
  pupilsReacting: 'number of reacting pupils',
};
