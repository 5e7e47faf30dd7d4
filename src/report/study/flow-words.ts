import type { StudyFlowResult } from '../results-study-cohort.js';
import { counted, listed } from '../words.js';

type Step = StudyFlowResult['steps'][number];

/** The steps before outcome is asked about: who they leave out was not monitored for long enough. */
const BEFORE_OUTCOME: readonly Step['step'][] = ['noExports', 'notRead', 'noIcp', 'littleMonitored'];

/** The flow as a page shows it: three steps, the first of which has several reasons. */
export interface ShownFlow {
  readonly notMonitored: readonly Step[];
  readonly notMonitoredCount: number;
  /** Patients of the table who were monitored for long enough. */
  readonly monitored: number;
  readonly noOutcome: Step;
  readonly withdrawn: Step;
}

function stepOf({ steps }: StudyFlowResult, wanted: Step['step']): Step {
  const found = steps.find(({ step }) => step === wanted);
  if (!found) throw new Error(`The flow has no step ${wanted}`);
  return found;
}

/** Gathers the steps of a flow. @throws Error where it lacks one: a fault of the program */
export function shownFlow(flow: StudyFlowResult): ShownFlow {
  const notMonitored = BEFORE_OUTCOME.map((step) => stepOf(flow, step));
  return {
    notMonitored,
    notMonitoredCount: notMonitored.reduce((sum, { excluded }) => sum + excluded, 0),
    monitored: stepOf(flow, 'littleMonitored').left,
    noOutcome: stepOf(flow, 'noOutcome'),
    withdrawn: stepOf(flow, 'withdrawn'),
  };
}

/** `3: no exports`; as in the boxes of the drawing. */
export const reasonWords = ({ excluded, title }: Step): string => `${excluded}: ${title}`;

const isOrAre = (n: number): string => (n === 1 ? 'is' : 'are');
const hasOrHave = (n: number): string => (n === 1 ? 'has' : 'have');

/** What the drawing of the flow says, in sentences. */
export function flowSentences(flow: StudyFlowResult): string[] {
  const { notMonitored, notMonitoredCount, monitored, noOutcome } = shownFlow(flow);
  const { inTable, withOutcome, notWithdrawn, withdrawalUnknown } = flow;
  const reasons = listed(notMonitored.filter(({ excluded }) => excluded > 0).map(reasonWords));
  const out =
    notMonitoredCount === 0
      ? `${inTable === 1 ? 'This one was' : 'All of them were'} monitored for long enough`
      : `${notMonitoredCount} of them ${isOrAre(notMonitoredCount)} left out (${reasons}), which leaves ${monitored} who were monitored for long enough`;
  const without =
    noOutcome.excluded === 0
      ? `, and the outcome of ${monitored === 1 ? 'this one' : 'all'} is known`
      : `; ${noOutcome.excluded} of these ${hasOrHave(noOutcome.excluded)} ${noOutcome.title}`;
  const withdrawn = withOutcome - notWithdrawn;
  const unsaid = withdrawalUnknown === 0 ? '' : ` (of ${withdrawalUnknown} of these the table does not say)`;
  return [
    `${counted(inTable, 'patient')} ${isOrAre(inTable)} in the cohort table.`,
    inTable === 0 ? '' : `${out}${monitored === 0 ? '' : without}.`,
    `The main analysis is of ${counted(withOutcome, 'patient')}.`,
    withOutcome === 0
      ? ''
      : `Treatment is known to have been withdrawn in ${withdrawn} of them; another look is at the other ${notWithdrawn}${unsaid}.`,
  ].filter((sentence) => sentence !== '');
}

/**
 * What stands beside the flow: rows and exports that it does not count.
 *
 * @param notRead patients, in the table or not, whose exports could not be read or have no column of ICP; null where that is not told
 */
export function besideFlow(flow: StudyFlowResult, notRead: number | null): string[] {
  const { rowsSetAside, exportsWithoutRow } = flow;
  return [
    rowsSetAside === 0
      ? ''
      : `${counted(rowsSetAside, 'row')} of the table could not be used (tables/setaside.csv says why): a patient who stands in such a row alone is not counted here.`,
    exportsWithoutRow === 0
      ? ''
      : `There are exports of ${counted(exportsWithoutRow, 'patient')} who ${hasOrHave(exportsWithoutRow)} no row in the table${rowsSetAside === 0 ? '' : ', or none that could be used,'} and ${isOrAre(exportsWithoutRow)} counted nowhere.`,
    notRead === null || notRead === 0
      ? ''
      : `The exports of ${counted(notRead, 'patient')}, in the table or not, could not be read or have no column of ICP (tables/setaside.csv says why).`,
  ].filter((sentence) => sentence !== '');
}
