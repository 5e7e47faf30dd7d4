import type { JSX } from 'preact';
import { Table } from '../../../src/report/page/table.js';
import type { Cause } from '../aggregate/causes.js';
import type { SamplingSummary } from '../aggregate/summary.js';
import { percent, samplingName } from '../words.js';
import { titleOf } from './titles.js';

/** What stays in the headline and why, or what the headline cannot know. Common practice, no source. */
const WHY: Readonly<Record<string, string>> = {
  leftOut:
    'ICP while it was unknown, under an artifact or left out as doubtful was not what it was in the rest of the time; perfect cleaning has most of this error too.',
  bumpedProbe:
    'A level that stepped up may be the patient: it stays in, hatched, and the page gives the figure without it.',
  drift: 'One channel cannot tell a slow drift from a slow true change.',
  clipped: 'Over the ceiling of a channel the burden is at least what is shown; how much more, nobody knows.',
  uprightZero: 'One of two zeros is wrong, and the export does not say which.',
  flatline: 'A frozen value is found once it has stood longer than chance allows.',
  openDrain: 'Nobody logged that the drain was open.',
  suction: 'Bursts on a plateau that go on for two minutes look like a true rise with scatter.',
  turn: 'A slow turn has the shape of a short true rise.',
  cough: 'Of a cough that stands on a flank or among waves only the top has a shape.',
  coughTrain: 'What lies between the spikes of a train is kept where it stays near the level before.',
  strain: 'A strain can last as long as a short true rise.',
  negative: 'Values that cross zero again and again are not under it for 5 min.',
  pulledProbe: 'Where a pulled probe keeps its scatter only the step tells.',
  damped: 'A damped level that is not lower than before stays in, hatched.',
};

const signed = (error: number): string => `${error < 0 ? '−' : '+'}${percent(Math.abs(error))}`;

const wordsOf = ({ kind, isHatched }: Cause): string =>
  kind === 'leftOut'
    ? 'time left out or unknown'
    : `${titleOf(kind)}, ${isHatched ? 'hatched on the page' : 'not marked'}`;

/** Patients whose dose misses the target of the 90th percentile, by what contributes most. */
export const CauseTable = ({ summary }: { summary: SamplingSummary }): JSX.Element => (
  <Table
    caption={`At ${samplingName(summary.samplingSeconds)}: patients whose dose a monitored hour is off by more than 10 %, by what contributes most to it.`}
    columns={[
      { head: 'What contributes most' },
      { head: 'Patients', number: true },
      { head: 'Median error', number: true },
      { head: 'Why' },
      { head: 'Worst' },
    ]}
    rows={summary.causes.map((cause) => ({
      key: wordsOf(cause),
      cells: [
        wordsOf(cause),
        cause.patients,
        percent(cause.medianError),
        WHY[cause.kind] ?? '',
        cause.worst.map(({ seed, error }) => `seed ${seed} (${signed(error)})`).join(', '),
      ],
    }))}
  />
);
