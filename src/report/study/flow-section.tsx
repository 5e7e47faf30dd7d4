import type { ComponentChildren, JSX } from 'preact';
import type { StudyFlowResult } from '../results-study-cohort.js';
import { besideFlow, flowSentences, reasonWords, shownFlow } from './flow-words.js';

interface StageProps {
  readonly patients: number;
  readonly says: string;
  /** Who went no further on the way to it. */
  readonly out?: ComponentChildren;
}

/** A box of the flow, and beside the way to it those who were left out. */
function Stage({ patients, says, out }: StageProps): JSX.Element {
  return (
    <li>
      {out && <div class="out">{out}</div>}
      <div class="stage">
        <strong>{patients}</strong> {says}
      </div>
    </li>
  );
}

function FlowDrawing({ flow }: { flow: StudyFlowResult }): JSX.Element {
  const { notMonitored, notMonitoredCount, monitored, noOutcome, withdrawn } = shownFlow(flow);
  return (
    <ol class="flow">
      <Stage patients={flow.inTable} says="in the cohort table" />
      <Stage
        patients={monitored}
        says="monitored for long enough"
        out={
          <>
            {notMonitoredCount} left out
            <ul>
              {notMonitored.map((step) => (
                <li key={step.step}>{reasonWords(step)}</li>
              ))}
            </ul>
          </>
        }
      />
      <Stage
        patients={flow.withOutcome}
        says="in the main analysis: with an outcome"
        out={reasonWords(noOutcome)}
      />
      <Stage
        patients={flow.notWithdrawn}
        says={`in the look without withdrawals${flow.withdrawalUnknown === 0 ? '' : `, of ${flow.withdrawalUnknown} the table does not say`}`}
        out={reasonWords(withdrawn)}
      />
    </ol>
  );
}

/**
 * Who is in the study, and who is not and why.
 *
 * @param notRead patients, in the table or not, whose exports could not be read or have no column of ICP
 */
export function FlowSection({ flow, notRead }: { flow: StudyFlowResult; notRead?: number }): JSX.Element {
  return (
    <section>
      <h2>Who is in it</h2>
      <p>{flowSentences(flow).join(' ')}</p>
      <FlowDrawing flow={flow} />
      {besideFlow(flow, notRead ?? null).map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      <p class="small">
        Each patient of the table is counted once, for the first reason that applies in the order shown. Form
        of the flow: STROBE statement, item 13, von Elm et al., Lancet 2007;370:1453-7.
      </p>
    </section>
  );
}
