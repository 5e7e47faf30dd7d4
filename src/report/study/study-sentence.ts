import type { StudyResult } from '../results-study.js';

export const studySentence = (
  _asked: StudyResult['asked'],
  _outcome: StudyResult['outcome'],
  _features: StudyResult['features'],
): string => {
  throw new Error('not built yet');
};
