import type { Draw } from '../charts/spec.js';
import type { UnitResults } from '../results-schema.js';
import type { StudyResult } from '../results-study.js';

/** The page of an outcome study, as a whole HTML document. */
export async function studyPage(_results: UnitResults, _study: StudyResult, _draw: Draw): Promise<string> {
  throw new Error('not built yet');
}
