import type { Draw } from '../charts/spec.js';
import { studyDaysSpec } from '../charts/study-days.js';
import { studyOutcomeSpec } from '../charts/study-outcome.js';
import type { StudyResult } from '../results-study.js';
import { featureUnit, isShare } from './feature-number.js';

/** The charts of who the patients are, as SVG. */
export interface CohortDrawings {
  readonly outcome: string;
  /** By feature, in their order; null where no day is known. */
  readonly days: readonly (string | null)[];
}

/** Draws who has which outcome, and the features by day since injury. */
export async function drawCohort(
  { outcome, days }: Pick<StudyResult, 'outcome' | 'days'>,
  draw: Draw,
): Promise<CohortDrawings> {
  const drawn: (string | null)[] = [];
  for (const [i, feature] of days.features.entries()) {
    const spec = studyDaysSpec(feature, featureUnit(feature) || 'index', isShare(feature));
    drawn.push(feature.days.length === 0 ? null : await draw(spec, `study-days-${i + 1}`));
  }
  return { outcome: await draw(studyOutcomeSpec(outcome), 'study-outcome'), days: drawn };
}
