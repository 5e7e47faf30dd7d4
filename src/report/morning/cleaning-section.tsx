import type { JSX } from 'preact';
import { ruleTitle } from '../rule-title.js';
import { counted, isOverADay } from '../words.js';
import { CleaningTable } from './cleaning-table.js';
import { DecisionTable } from './decision-table.js';
import type { PatientPageInput } from './patient-page-input.js';
import { RemovalList } from './removal-list.js';

/** What each rule and each person took, and what hangs on it. */
export function CleaningSection({ result, targets, period, drawings }: PatientPageInput): JSX.Element {
  const { stoodAside } = result.cleaning;
  return (
    <section>
      <h2>What cleaning took</h2>
      <CleaningTable result={result} targets={targets} />
      <DecisionTable result={result} targets={targets} />
      <RemovalList
        result={result}
        targets={targets}
        isLong={isOverADay(period)}
        pictures={drawings.removals}
      />
      {stoodAside.length > 0 && (
        <p class="small">
          {counted(stoodAside.length, 'rule')} stood aside:{' '}
          {stoodAside.map(({ rule, why }) => `${ruleTitle(rule)} (${why})`).join('; ')}.
        </p>
      )}
    </section>
  );
}
