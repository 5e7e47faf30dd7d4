import type { JSX } from 'preact';
import type { StudyModels } from '../results-study-features.js';
import { NONE } from '../words.js';
import { Below } from './below.js';
import { boundsText, oddsText, pText } from './study-numbers.js';

type Logistic = NonNullable<StudyModels['logistic']>;
type Ratio = Pick<Logistic, 'value' | 'wald' | 'profile'>;

/** An odds ratio with its profile interval, and of whom it is. */
export function oddsCell(model: Ratio | null, whom: readonly string[]): JSX.Element {
  return model === null ? (
    <Below value={NONE} lines={[]} />
  ) : (
    <Below value={oddsText(model.value)} lines={[boundsText(model.profile, oddsText), ...whom]} />
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

/** `38 of 63`, and what the odds ratio has to be read with. */
export function whomOf(model: Logistic | null): string[] {
  if (model === null) return [];
  const { events, patients, method, hasFewEvents, eventsPerVariable } = model;
  return [
    `${events} of ${patients}`,
    ...(hasFewEvents ? [`few events: ${eventsPerVariable.toFixed(1)}`] : []),
    ...(method === 'penalised likelihood' ? ["Firth's"] : []),
  ];
}
