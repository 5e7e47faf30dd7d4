import type { JSX } from 'preact';
import { levelWords } from '../charts/study-outcome.js';
import { SIDE_COLOURS, SIDES } from '../charts/study-sides.js';
import { Chart, Key } from '../page/chart.js';
import { Table } from '../page/table.js';
import type { StudyOutcomeResult, StudyWindowsResult } from '../results-study-cohort.js';
import { NONE, share } from '../words.js';
import { assessedSentence, cutSentence, outcomeSentence } from './outcome-sentences.js';
import { WindowsPart } from './windows-part.js';
import { WITH_NEXT } from './with-next.js';

function LevelTable({ outcome }: { outcome: StudyOutcomeResult }): JSX.Element {
  const { levels, counts } = outcome;
  const all = counts.favourable + counts.unfavourable;
  return (
    <Table
      columns={[{ head: 'Outcome' }, { head: 'Patients', number: true }, { head: 'Share', number: true }]}
      rows={[...levels].reverse().map((level) => ({
        key: String(level.code),
        cells: [levelWords(outcome, level), String(level.count), all === 0 ? NONE : share(level.count / all)],
      }))}
    />
  );
}

/** What outcomes there are, how long the patients were monitored, and what ended the time that counts. */
export function OutcomeSection({
  outcome,
  windows,
  svg,
}: {
  outcome: StudyOutcomeResult;
  windows: StudyWindowsResult;
  svg: string;
}): JSX.Element {
  const says = outcomeSentence(outcome);
  return (
    <section>
      <h2>Outcome</h2>
      <p style={WITH_NEXT}>{says}</p>
      <div class="beside-each-other together">
        <Chart
          svg={svg}
          title={
            <>
              Patients of the main analysis by outcome; the broken line is the cut.{' '}
              {SIDES.map((side) => (
                <Key key={side} colour={SIDE_COLOURS[side]}>
                  {outcome.words[side]}
                </Key>
              ))}
            </>
          }
          says={`${says} ${outcome.levels.map((level) => `${levelWords(outcome, level)}: ${level.count}`).join(', ')}.`}
        />
        <LevelTable outcome={outcome} />
      </div>
      <p>{assessedSentence(outcome)}</p>
      <p class="small">{cutSentence(outcome)}</p>
      <WindowsPart outcome={outcome} windows={windows} />
    </section>
  );
}
