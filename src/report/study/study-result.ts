import { featureAnalyses } from '../../summarize/study/analysis/feature-analysis.js';
import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyResult } from '../results-study.js';
import { askedResult } from './asked-result.js';
import { criteriaResult } from './criteria-result.js';
import { daysResult } from './days-result.js';
import { doseResult } from './dose-result.js';
import { featuresResult } from './features-result.js';
import { flowResult } from './flow-result.js';
import { looksResult } from './looks-result.js';
import { mapsResult } from './maps-result.js';
import { outcomeResult } from './outcome-result.js';
import { studySentence } from './study-sentence.js';
import { tableOneResult } from './table-one-result.js';
import { windowsResult } from './windows-result.js';
import { wordsResult } from './words-result.js';

/** The study of a cohort as it stands in results.json. */
export function studyResult(cohort: StudyCohort): StudyResult {
  const asked = askedResult(cohort);
  const outcome = outcomeResult(cohort);
  const analyses = featureAnalyses(cohort.groups, cohort.settings.chosen, cohort.adjusters);
  const features = featuresResult(cohort, analyses);
  const flow = flowResult(cohort);
  return {
    sentence: studySentence(asked, outcome, features, flow),
    patientsAs: cohort.settings.hasPseudonyms ? 'pseudonyms' : 'numbers',
    asked,
    words: wordsResult(cohort, analyses),
    patients: cohort.groups.coded.length,
    flow,
    criteria: criteriaResult(cohort),
    windows: windowsResult(cohort),
    outcome,
    tableOne: tableOneResult(cohort),
    features,
    looks: looksResult(cohort, analyses),
    dose: doseResult(cohort),
    maps: mapsResult(cohort),
    days: daysResult(cohort),
  };
}
