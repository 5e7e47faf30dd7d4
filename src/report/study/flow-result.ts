import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { FlowStep } from '../../summarize/study/study-flow.js';
import type { StudyFlowResult } from '../results-study-cohort.js';
import { outcomeAsked } from './outcome-words.js';

const hours = (value: number): string => `${Number(value.toFixed(2))} h`;

/** What the patients who come no further than a step have in common. */
function titlesOf({ settings, cut }: Pick<StudyCohort, 'settings' | 'cut'>): Record<FlowStep, string> {
  const { leastHours, primaryHours, outcome } = settings;
  const inWindow = `in the first ${hours(primaryHours)}`;
  return {
    noExports: 'no exports',
    notRead: 'exports that could not be read',
    noIcp: 'no ICP in the exports',
    littleMonitored:
      leastHours === 0
        ? `no ICP known ${inWindow}`
        : `ICP known for less than ${hours(leastHours)} ${inWindow}`,
    noOutcome: `no known outcome (${outcomeAsked(cut.scale, outcome.months)})`,
    withdrawn: 'treatment withdrawn',
  };
}

/** Who is in the study and who is not, as counts: a page names nobody. */
export function flowResult(cohort: StudyCohort): StudyFlowResult {
  const { flow, rowsSetAside } = cohort;
  const titles = titlesOf(cohort);
  return {
    inTable: flow.inTable,
    rowsSetAside,
    steps: flow.steps.map(({ step, excluded, left }) => ({ step, title: titles[step], excluded, left })),
    withOutcome: flow.withOutcome.length,
    notWithdrawn: flow.notWithdrawn.length,
    withdrawalUnknown: flow.withdrawalUnknown,
    exportsWithoutRow: flow.exportsWithoutRow.length,
  };
}
