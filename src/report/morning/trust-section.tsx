import type { JSX } from 'preact';
import type { Targets } from '../../summarize/targets.js';
import { COLOURS } from '../charts/palette.js';
import { Chart, hatched, Key } from '../page/chart.js';
import type { RecordingResult } from '../results-schema.js';
import { ruleTitle } from '../rule-title.js';
import { counted, share } from '../words.js';
import { CleaningTable } from './cleaning-table.js';
import { DecisionTable } from './decision-table.js';
import type { PatientDrawings } from './patient-drawings.js';
import { RemovalTable } from './removal-table.js';
import { stripRows } from './strip-rows.js';

interface TrustProps {
  readonly result: RecordingResult;
  readonly targets: Targets;
  readonly isLong: boolean;
  readonly drawings: PatientDrawings;
}

/** What was taken over the period, a row a rule. */
function CleaningStrip({ result, drawings }: TrustProps): JSX.Element | null {
  if (drawings.cleaningStrip === null) return null;
  const rows = stripRows(result);
  const hasRemoved = result.removed.some(({ grade }) => grade === 'removed');
  const hasSuspect = result.removed.some(({ grade }) => grade === 'suspect');
  const hasDecided = result.decisions.length > 0;
  return (
    <Chart
      svg={drawings.cleaningStrip}
      says={`What was taken over the period: ${rows.map(({ name, bars }) => `${name}, ${counted(bars.length, 'stretch', 'stretches')}`).join('; ')}.`}
      title={
        <>
          What was taken, and by which rule, local time.{' '}
          {hasRemoved && <Key colour={COLOURS.removed}>filled: removed</Key>}
          {hasSuspect && <Key colour={hatched(COLOURS.suspect)}>outlined with strokes: suspect</Key>}
          {hasDecided && <Key colour={COLOURS.ink}>black: a person decided (filled removed, empty kept)</Key>}
          Short ones are drawn wider, so that they show.
        </>
      }
    />
  );
}

/** How far the patient's figures can be trusted, and what cleaning changed. */
export function TrustSection(props: TrustProps): JSX.Element {
  const { result, targets, isLong, drawings } = props;
  const { cleaning, knownShare } = result;
  return (
    <section>
      <h2>How far to trust it</h2>
      <p>
        {cleaning.isOff
          ? `Nothing was cleaned; as exported, ICP is known for ${share(knownShare)} of the time.`
          : `After cleaning, ICP is known for ${share(knownShare)} of the time.`}
      </p>
      {result.readingWarnings.length > 0 && (
        <ul>
          {result.readingWarnings.map((warning) => (
            <li key={warning}>{warning}</li>
          ))}
        </ul>
      )}
      <CleaningStrip {...props} />
      <CleaningTable result={result} targets={targets} />
      <DecisionTable result={result} targets={targets} />
      <RemovalTable result={result} targets={targets} isLong={isLong} pictures={drawings.removals} />
      {cleaning.stoodAside.length > 0 && (
        <p class="small">
          {counted(cleaning.stoodAside.length, 'rule')} stood aside:{' '}
          {cleaning.stoodAside.map(({ rule, why }) => `${ruleTitle(rule)} (${why})`).join('; ')}.
        </p>
      )}
    </section>
  );
}
