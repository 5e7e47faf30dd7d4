import type { JSX } from 'preact';
import type { RecordingResult } from '../results-schema.js';
import { ruleTitle } from '../rule-title.js';
import { counted, isOverADay, listed } from '../words.js';
import { CleaningTable } from './cleaning-table.js';
import { DecisionTable } from './decision-table.js';
import type { PatientPageInput } from './patient-page-input.js';
import { RemovalList } from './removal-list.js';

/** Rules by why they stood aside, each reason once. */
function reasonsOf(
  stoodAside: RecordingResult['cleaning']['stoodAside'],
): { readonly why: string; readonly rules: string[] }[] {
  const byWhy = new Map<string, string[]>();
  for (const { rule, why } of stoodAside) byWhy.set(why, [...(byWhy.get(why) ?? []), ruleTitle(rule)]);
  return [...byWhy].map(([why, rules]) => ({ why, rules }));
}

/** Rules that could not run, and why. */
export function StoodAside({ result }: { result: RecordingResult }): JSX.Element | null {
  const { stoodAside } = result.cleaning;
  return stoodAside.length === 0 ? null : (
    <>
      <p class="small">{counted(stoodAside.length, 'rule')} could not run:</p>
      <ul class="small">
        {reasonsOf(stoodAside).map(({ why, rules }) => (
          <li key={why}>
            {why}: {listed(rules)}
          </li>
        ))}
      </ul>
    </>
  );
}

/** What each rule and each person took, and what hangs on it. */
export function CleaningSection({ result, targets, period, drawings }: PatientPageInput): JSX.Element {
  return (
    <section>
      <h2>What was removed, and why</h2>
      <CleaningTable result={result} targets={targets} />
      <DecisionTable result={result} targets={targets} />
      <RemovalList
        result={result}
        targets={targets}
        isLong={isOverADay(period)}
        pictures={drawings.removals}
      />
      <StoodAside result={result} />
    </section>
  );
}
