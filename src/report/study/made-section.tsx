import type { JSX } from 'preact';
import { LogLines } from '../morning/log-lines.js';
import type { UnitResults } from '../results-schema.js';
import type { StudyResult } from '../results-study.js';
import { listed } from '../words.js';
import { ADJUSTER_WORDS } from './adjuster-words.js';
import { ChosenDefinitions } from './made-definitions.js';
import { ComparisonMade, ShapesMade, WindowsMade } from './made-methods.js';

type Data = Pick<UnitResults, 'counts' | 'logs' | 'cleaningNote'> & {
  readonly unit: Pick<UnitResults['unit'], 'levellingNote'>;
};

/** What was read, how it was cleaned, and what the signal is between samples. */
function DataMade({ results }: { results: Data }): JSX.Element {
  const { rowsRead, rowsUsed, rowsSetAside } = results.counts;
  return (
    <>
      <p>
        Exports: rows read {rowsRead}, used {rowsUsed}, set aside {rowsSetAside}
        {rowsSetAside > 0 ? ' (each with its reason in tables/setaside.csv)' : ''}. Channels are cleaned by
        the rules of the pipeline file, which mark stretches and change no value.{' '}
        {[results.cleaningNote ?? 'The usual rules of cleaning were used.', results.unit.levellingNote]
          .filter((note) => note !== null && note !== '')
          .join(' ')}{' '}
        Pressures are taken as linear between neighbouring samples and as unknown across longer gaps and
        across what was removed; crossings are exact, and what the sampling cannot show has no value.
      </p>
      <LogLines logs={results.logs} />
    </>
  );
}

/** What was decided before the data were looked at, as far as the pipeline file tells. */
function SettledMade({ asked }: Pick<StudyResult, 'asked'>): JSX.Element {
  const { areChosenUsual, areAdjustersUsual, adjusters, episodes } = asked;
  const by = adjusters.map((adjuster) => ADJUSTER_WORDS[adjuster]);
  return (
    <p>
      Settled before the figures were made: the features and the steps of their odds ratios are{' '}
      {areChosenUsual
        ? 'the usual ones of this report, since the pipeline file names none (own convention)'
        : 'those that the pipeline file names'}
      ;{' '}
      {by.length === 0
        ? 'the pipeline file asks for no adjustment'
        : `odds ratios are adjusted by ${listed(by)}, ${areAdjustersUsual ? 'the usual ones, with the part of the GCS that more patients have (own convention)' : 'as the pipeline file says'}`}
      . An episode is ICP above {episodes.thresholdMmHg} mmHg for {episodes.minSeconds} s or more. Whether the
      pipeline file was written before the data were looked at, no report can tell: a dated protocol can.
    </p>
  );
}

/** Where the figures come from, the methods with their sources, and where everything can be taken from. */
export function StudyMadeSection({ results, study }: { results: Data; study: StudyResult }): JSX.Element {
  return (
    <section class="small">
      <h2>How it was made</h2>
      <DataMade results={results} />
      <WindowsMade {...study} />
      <SettledMade {...study} />
      <ComparisonMade />
      <ShapesMade {...study} />
      <ChosenDefinitions {...study} />
      <p>
        To take elsewhere: tables/features.csv has a row for each patient and window with all features, and
        tables/features-long.csv a row for each value; tables/patients.csv has who is in and who is out; these
        three can be opened by their owner alone. Each table is there as CSV and, with the same columns, as
        Parquet. tables/csv-metadata.json tells type, unit and meaning of each column to programs,
        tables/dictionary.csv to people. results.json holds every figure of this page unrounded, with the
        settings in effect.
      </p>
      {study.patientsAs === 'pseudonyms' && (
        <p>
          In tables patients appear by pseudonym. key.csv, which only its owner can open, tells who is who;
          run.json, tables/setaside.csv and tables/remarks.csv may tell too. Leave these four out of whatever
          is passed on. Ages, outcomes and courses stay as they were, so what is passed on is not anonymous.
        </p>
      )}
    </section>
  );
}
