import type { JSX } from 'preact';
import type { StudyModels } from '../results-study-features.js';
import { NONE } from '../words.js';
import { Below } from './below.js';
import { boundsText, oddsText, pText } from './study-numbers.js';

type Logistic = NonNullable<StudyModels['logistic']>;
type Ratio = Pick<Logistic, 'value' | 'wald' | 'profile'>;

/** An odds ratio with its profile interval, and of whom it is. */
export function oddsCell(model: Ratio | null, whom: string): JSX.Element {
  return model === null ? (
    <Below value={NONE} lines={[]} />
  ) : (
    <Below value={oddsText(model.value)} lines={[boundsText(model.profile, oddsText), whom]} />
  );
}

/** Wald's interval with its p. */
export function waldCell(model: Ratio | null): JSX.Element {
  const bounds = model === null ? '' : boundsText(model.wald, oddsText);
  return (
    <Below
      value={bounds === '' ? NONE : bounds}
      lines={[model === null || bounds === '' ? '' : `p ${pText(model.wald.p)}`]}
    />
  );
}

/** `44 patients, 25 unfav.`, with a flag for Firth's. */
export const whomOf = (model: Logistic | null): string =>
  model === null
    ? ''
    : `${model.events} of ${model.patients}${model.method === 'penalised likelihood' ? ", Firth's" : ''}`;
