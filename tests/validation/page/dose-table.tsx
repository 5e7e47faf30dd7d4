import type { JSX } from 'preact';
import { Table } from '../../../src/report/page/table.js';
import type { Spread } from '../aggregate/doses.js';
import type { SamplingSummary } from '../aggregate/summary.js';
import { mmHg, percent, samplingName } from '../words.js';

const READINGS = [
  ['raw', 'before cleaning'],
  ['cleaned', 'after cleaning, as in the headline'],
  ['trusted', 'without anything that is marked'],
  ['ideal', 'perfect cleaning'],
  ['cleanedToIdeal', 'headline against perfect cleaning'],
] as const;

const cells = ({ median, p90, max }: Spread, words: (value: number | null) => string): string[] => [
  words(median),
  words(p90),
  words(max),
];

/** Error of dose a monitored hour: relative where the dose is high, in mmHg where it is low. */
export const DoseTable = ({ samplings }: { samplings: readonly SamplingSummary[] }): JSX.Element => (
  <Table
    caption="Error of the dose above 22 mmHg a monitored hour. In the headline, downward suspect stretches are out and upward ones are in: a probe pushed up therefore counts in full. Perfect cleaning leaves out exactly what is labelled; it is off by what ICP did under the artifacts, which nobody can know, by rounding and by sampling."
    columns={[
      { head: 'Sampling' },
      { head: 'Reading' },
      { head: 'Dose 1 mmHg·h or more', number: true },
      { head: 'median', number: true },
      { head: '90th percentile', number: true },
      { head: 'largest', number: true },
      { head: 'Less', number: true },
      { head: 'median, mmHg', number: true },
      { head: '90th percentile', number: true },
      { head: 'largest', number: true },
    ]}
    rows={samplings.flatMap(({ samplingSeconds, dose: { high, low } }) =>
      READINGS.map(([reading, says]) => ({
        key: `${samplingName(samplingSeconds)} ${reading}`,
        cells: [
          samplingName(samplingSeconds),
          says,
          high.recordings,
          ...cells(high[reading], percent),
          low.recordings,
          ...cells(low[reading], mmHg),
        ],
      })),
    )}
  />
);
