import type { JSX } from 'preact';
import { CHANNEL_NAMES } from '../../recording/channel.js';
import { plainUnit } from '../plain-unit.js';
import { readingWords } from '../reading-words.js';
import type { RecordingResult, Results } from '../results-schema.js';
import { dayAndTime } from '../words.js';
import { PatientLogLines } from './log-lines.js';

interface MadeProps {
  readonly result: RecordingResult;
  readonly logs: Results['logs'];
}

const rate = (seconds: number | null): string =>
  seconds === null ? 'no samples' : `every ${Number(seconds.toPrecision(3))} s`;

/** From when to when, how often, how many rows, and where ICP and MAP come from. */
function dataWords({
  counts,
  nominalIntervalSeconds: every,
  icpSource,
  mapDerivedFrom,
  ...result
}: RecordingResult): string {
  const map = every.map === null ? '' : `, MAP ${rate(every.map)}`;
  const aside = counts.rowsSetAside > 0 ? ' (see tables/setaside.csv)' : '';
  return [
    `Data from ${dayAndTime(result.start)} to ${dayAndTime(result.end)}; ICP ${rate(every.icp)}${map}.`,
    `Rows read ${counts.rowsRead}, used ${counts.rowsUsed}, set aside ${counts.rowsSetAside}${aside}.`,
    ...(icpSource === null ? [] : [`ICP is read through a ${icpSource}.`]),
    ...(mapDerivedFrom === null
      ? []
      : [
          `MAP is not in the export: it is derived as ${mapDerivedFrom} (common practice, no source), and so is CPP.`,
        ]),
  ].join(' ');
}

/** Where the figures come from, in short; the detail page has files, columns and definitions. */
export function MadeInShort({ result }: { result: RecordingResult }): JSX.Element {
  return (
    <section class="small">
      <h2>How it was made</h2>
      <p>
        {dataWords(result)} Highest and lowest are 5-min means; the table of episodes shows single samples.
        Values for adults: Brain Trauma Foundation, 4th edition (Carney et al., Neurosurgery 2017;80:6-15);
        for children: Kochanek et al., Pediatr Crit Care Med 2019;20:S1-S82. Sustained for 5 min, and the
        cleaning rules: common practice, no source. All figures, unrounded, are in results.json.
      </p>
    </section>
  );
}

/** Where the figures come from: files, columns, rows, logs. */
export function MadeData({ result, logs }: MadeProps): JSX.Element {
  return (
    <>
      <p>{dataWords(result)}</p>
      {result.readingWarnings.map((warning) => (
        <p key={warning}>{warning}</p>
      ))}
      {result.files.map(({ file, reading, columns, leftAlone }) => (
        <p key={file}>
          {file} ({readingWords(reading)}):{' '}
          {columns
            .map(
              ({ header, kind, unit }) => `"${header}" read as ${CHANNEL_NAMES[kind]} in ${plainUnit(unit)}`,
            )
            .join(', ')}
          {leftAlone.length > 0 &&
            `; left alone: ${leftAlone.map(({ header, why }) => `"${header}" (${why})`).join(', ')}`}
          .
        </p>
      ))}
      <PatientLogLines result={result} logs={logs} />
    </>
  );
}

/** Where the figures come from, and the definitions with their sources. */
export function MadeSection({ result, logs }: MadeProps): JSX.Element {
  return (
    <section class="small">
      <h2>How it was made</h2>
      <MadeData result={result} logs={logs} />
      <p>
        The signal is taken as linear between neighbouring samples and as unknown across longer gaps and
        across what was removed; every figure is computed on that one function, crossings included. Highest
        and lowest are 5-min means (windows known for at least half); the tables of episodes and excursions
        show single samples. Values for adults (ICP 22 mmHg, CPP 60 to 70 mmHg): Brain Trauma Foundation, 4th
        edition, Carney et al., Neurosurgery 2017;80:6-15; for children (ICP 20 mmHg, CPP 40 to 50 mmHg):
        Kochanek et al., Pediatr Crit Care Med 2019;20:S1-S82. Sustained for 5 min, ICP band 5 to 15 mmHg and
        the cleaning rules: common practice, no source. All figures, unrounded, are in results.json.
      </p>
    </section>
  );
}
