import type { JSX } from 'preact';
import { Table } from '../page/table.js';
import type { StudyOutcomeResult, StudyTableOneResult } from '../results-study-cohort.js';
import { counted } from '../words.js';
import { type TableOneColumn, type TableOneLine, tableOneLines } from './table-one-rows.js';
import { headWords } from './windows-part.js';
import { WITH_NEXT } from './with-next.js';

/** A figure, and below it of how many it is not known where that is anyone in the row. */
function Cell({
  line: { cell, missing },
  column,
  hasMissing,
}: {
  line: TableOneLine;
  column: TableOneColumn;
  hasMissing: boolean;
}): JSX.Element {
  return (
    <>
      {cell(column)}
      {hasMissing && missing !== null && (
        <>
          <br />
          <span class="small">missing: {missing(column)}</span>
        </>
      )}
    </>
  );
}

/** Who the patients are, by outcome. */
export function TableOneSection({
  tableOne,
  outcome,
}: {
  tableOne: StudyTableOneResult;
  outcome: Pick<StudyOutcomeResult, 'words'>;
}): JSX.Element {
  const columns = [
    { key: 'favourable', head: headWords(outcome.words.favourable) },
    { key: 'unfavourable', head: headWords(outcome.words.unfavourable) },
    { key: 'withoutOutcome', head: 'Without outcome' },
    { key: 'all', head: 'All three' },
  ] as const;
  const isTherapyThere = tableOne.all.therapyIntensity.known > 0;
  return (
    <section>
      <h2>Who the patients are</h2>
      <p style={WITH_NEXT}>
        The {counted(tableOne.all.patients, 'patient')} who {tableOne.all.patients === 1 ? 'was' : 'were'}{' '}
        monitored for long enough, by outcome. The first two groups are the main analysis. Whether those
        without outcome differ from them says how far the study speaks of those alone who were followed.
      </p>
      <Table
        kind="wraps"
        columns={[{ head: 'What' }, ...columns.map(({ head }) => ({ head, number: true }))]}
        rows={tableOneLines(tableOne).map((line) => {
          const hasMissing = line.missing !== null && line.missing(tableOne.all) > 0;
          return {
            key: line.name,
            cells: [
              line.name,
              ...columns.map(({ key }) => (
                <Cell key={key} line={line} column={tableOne[key]} hasMissing={hasMissing} />
              )),
            ],
          };
        })}
      />
      <p class="small">
        Shares are of the patients of whom it is known; a row without a line of missing ones is known of all.
        Died: by the columns of brain death and of deaths, at any time, or by the outcome where it counts.
        Craniectomy and withdrawal: at any time.
        {isTherapyThere ? ' Therapy intensity: the score of the table, on whichever scale it is.' : ''}
      </p>
      <p class="small">
        Nothing is tested here. The groups are what was found and not drawn by lot, so that a p-value would
        answer no question: a difference that matters may have a large one in few patients, and one that does
        not matter a small one in many.
      </p>
    </section>
  );
}
