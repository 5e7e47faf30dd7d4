import type { JSX } from 'preact';
import { BurdenTable } from '../morning/burden-table.js';
import { StoodAside } from '../morning/cleaning-section.js';
import { CleaningStripChart } from '../morning/cleaning-strip-chart.js';
import { CleaningTable } from '../morning/cleaning-table.js';
import { DecisionTable } from '../morning/decision-table.js';
import { careBesideWords } from '../morning/log-lines.js';
import { nothingSuspectWords } from '../morning/nothing-suspect.js';
import { TrustLead } from '../morning/trust-section.js';
import type { PageInput } from '../page-input.js';
import type { PerfusionDrawings } from './page-drawings.js';

/** How far the figures of perfusion can be trusted: what was taken, and what hangs on it. */
export function PerfusionTrustSection(
  input: PageInput & { readonly drawings: PerfusionDrawings },
): JSX.Element {
  const { result, targets } = input;
  const { clockLag, ownCpp } = result;
  const hasCpp = result.monitoredHours.cpp > 0;
  const checks = [
    // At the top of the page where the clocks may be apart.
    ...result.readingWarnings.filter((warning) => warning !== clockLag.sentence),
    hasCpp && !clockLag.isApart ? clockLag.sentence : '',
    result.perfusion.prxDoubt ?? '',
    // At the top of the page where the monitor does not level.
    hasCpp && !ownCpp?.isWithoutLevel ? (ownCpp?.sentence ?? '') : '',
    result.suspect.length === 0 ? nothingSuspectWords(result) : '',
    careBesideWords(result),
  ].filter((words) => words !== '');
  return (
    <section>
      <h2>How far to trust it</h2>
      <TrustLead result={result} checks={checks} />
      <CleaningStripChart {...input} />
      <BurdenTable result={result} targets={targets} />
      <CleaningTable result={result} targets={targets} />
      <DecisionTable result={result} targets={targets} />
      <StoodAside result={result} />
    </section>
  );
}
