import type { JSX } from 'preact';
import { Table } from '../page/table.js';
import type { StudyMapResult } from '../results-study-map.js';
import {
  alongWords,
  cellCounts,
  FORM_WORDS,
  type MapForm,
  namedRows,
  rowOf,
  sideWords,
} from './map-words.js';

const FORMS: readonly MapForm[] = ['perDay', 'count'];
/** Of how long an episode the table counts patients, minutes. */
const NAMED_MINUTES = 5;

/** How many cells say what. */
export function CellsTable({ map }: { map: StudyMapResult }): JSX.Element {
  return (
    <Table
      caption={`${sideWords(map)} each intensity: cells by the outcome that goes with more episodes`}
      kind="wraps"
      columns={[
        { head: 'Correlated with outcome' },
        { head: 'Cells with a correlation', number: true },
        { head: 'Worse', number: true },
        { head: 'of which stable', number: true },
        { head: 'Better', number: true },
        { head: 'of which stable', number: true },
      ]}
      rows={FORMS.map((form) => {
        const { cells, known, worse, worseStable, better, betterStable } = cellCounts(map, form);
        return {
          key: form,
          cells: [FORM_WORDS[form], `${known} of ${cells}`, worse, worseStable, better, betterStable],
        };
      })}
    />
  );
}

/** Where the sign changes, every 5 mmHg. */
export function ChangesTable({ map }: { map: StudyMapResult }): JSX.Element {
  const at = map.durationsMinutes.indexOf(NAMED_MINUTES);
  return (
    <Table
      caption="Outcome that goes with more episodes, along the durations; in brackets those that have a correlation"
      kind="wraps"
      columns={[
        { head: `${sideWords(map)}, mmHg`, number: true },
        ...(at < 0 ? [] : [{ head: `Patients with an episode of ${NAMED_MINUTES} min`, number: true }]),
        { head: 'By episodes per monitored day' },
        { head: 'By their number' },
      ]}
      rows={namedRows(map).map((k) => ({
        key: String(k),
        cells: [
          String(map.intensitiesMmHg[k]),
          ...(at < 0 ? [] : [String(rowOf(map.withEpisode, map, k)[at])]),
          alongWords(map, 'perDay', k),
          alongWords(map, 'count', k),
        ],
      }))}
    />
  );
}
