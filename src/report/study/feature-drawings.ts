import type { Draw } from '../charts/spec.js';
import { type ForestOdds, type ForestRow, forestSpec, MOST_FOREST_ROWS } from '../charts/study-forest.js';
import type { StudyResult } from '../results-study.js';
import type { StudyModels } from '../results-study-features.js';
import { stepText } from './study-numbers.js';

/** The charts of the chosen features, as SVG; null where there is nothing to draw. */
export interface FeatureDrawings {
  readonly forest: string | null;
}

const oddsOf = ({ logistic }: Pick<StudyModels, 'logistic'>): ForestOdds | null =>
  logistic && {
    value: logistic.value,
    lower: logistic.profile.lower,
    upper: logistic.profile.upper,
    isPenalised: logistic.method === 'penalised likelihood',
  };

/** The features of which an odds ratio is known, as rows of the chart. */
export const forestRows = (features: StudyResult['features']): ForestRow[] =>
  features
    .map((feature) => ({
      name: feature.title,
      step: stepText(feature),
      unadjusted: oddsOf(feature),
      adjusted: oddsOf(feature.adjusted),
    }))
    .filter(({ unadjusted, adjusted }) =>
      [unadjusted, adjusted].some((odds) => odds !== null && odds.value !== null),
    );

/** Draws the odds ratios of the chosen features; of very many the first alone, as the title of the chart says. */
export async function drawFeatures(
  { features }: Pick<StudyResult, 'features'>,
  draw: Draw,
): Promise<FeatureDrawings> {
  const rows = forestRows(features);
  return {
    forest: rows.length === 0 ? null : await draw(forestSpec(rows.slice(0, MOST_FOREST_ROWS)), 'study-odds'),
  };
}
