import type { JSX } from 'preact';
import { renderPage } from './page/page.js';
import { runningTitle } from './page/running-title.js';
import { type Column, type Row, Table } from './page/table.js';
import type { UnitResults } from './results-schema.js';
import { counted, span, titleTime } from './words.js';

/** What differs between the pages of a unit. */
interface UnitTable {
  readonly caption: string;
  /** The patient, a picture, figures. */
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
  /** Below the table. */
  readonly definitions: JSX.Element;
}

/** The page of a unit, as a whole HTML document: its sentence, what to know first, a row a patient. */
export const renderUnit = (
  { period, pipeline, recordings, failed, noData, unit, cleaningNote }: UnitResults,
  { caption, columns, rows, definitions }: UnitTable,
): string =>
  renderPage({
    title: `${pipeline.title}: ${titleTime(period.word, period.start, period.end)}`,
    running: runningTitle(pipeline.title, period),
    subtitle: `${span(period.start, period.end)} (${period.timezone}). ${counted(recordings.length, 'patient')} with data, ${noData.length} without, ${failed.length} not read.`,
    children: (
      <>
        <p class="answer">{unit.sentence}</p>
        {[cleaningNote, unit.samplingNote].map(
          (note) =>
            note !== null && (
              <p key={note}>
                <strong>{note}</strong>
              </p>
            ),
        )}
        <Table kind="unit" caption={caption} columns={columns} rows={rows} />
        {definitions}
      </>
    ),
  });
