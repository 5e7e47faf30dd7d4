import { SIDES, type Side } from '../charts/study-sides.js';
import type { SpreadResult, StudyDaysResult } from '../results-study-cohort.js';
import { counted, NONE } from '../words.js';
import { featureNumber } from './feature-number.js';
import { spreadWords } from './spread-words.js';

export type DayFeature = StudyDaysResult['features'][number];
type Day = DayFeature['days'][number];

/** `18.2 (15.0 to 21.0)` of a feature. */
export const dayCell = (feature: DayFeature, spread: SpreadResult): string =>
  spreadWords(spread, (value) => featureNumber(feature, value));

/** Who was monitored on a day, and of how many of them the feature is known: `12`, `12 of 15`. */
export const knownOf = ({ known, missing }: SpreadResult): string =>
  missing === 0 ? String(known) : `${known} of ${known + missing}`;

/** What the chart of a feature shows, for a reader who cannot see it. */
export function daysSay(feature: DayFeature): string {
  const side = (one: Day, name: Side): string => {
    const cell = dayCell(feature, one[name]);
    return cell === NONE
      ? `${name}: not known of anyone`
      : `${name} ${cell}, ${counted(one[name].known, 'patient')}`;
  };
  const days = feature.days.map(
    (one) => `Day ${one.day}: ${SIDES.map((name) => side(one, name)).join('; ')}.`,
  );
  return `${feature.title}, median and quartiles. ${days.join(' ')}`;
}

/** Of whom days can be told, and why not of the others. */
export function whoseDays({ withDays, noDays }: StudyDaysResult): string {
  const without = noDays.reduce((sum, { patients }) => sum + patients, 0);
  const all = withDays + without;
  if (without === 0) return `Days can be told of all ${counted(all, 'patient')} of the main analysis.`;
  const why = noDays.map(({ why: reason, patients }) => `${patients}: ${reason}`).join('; ');
  return `Days can be told of ${withDays} of the ${counted(all, 'patient')} of the main analysis (not of ${why}).`;
}
