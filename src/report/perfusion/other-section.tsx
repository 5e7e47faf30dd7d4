import type { JSX } from 'preact';
import { type Row, Table } from '../page/table.js';
import type { PerfusionResult } from '../results-perfusion.js';
import { duration, pressure } from '../words.js';

type OneChannel = NonNullable<PerfusionResult['temperature']>;

const rowOf = (name: string, unit: string, one: OneChannel | null, below: string): Row[] =>
  one === null
    ? []
    : [
        {
          key: name,
          cells: [
            `${name}, ${unit}`,
            duration(one.knownHours),
            pressure(one.mean, one.decimals),
            pressure(one.lowest5Min, one.decimals),
            pressure(one.highest5Min, one.decimals),
            below,
          ],
        },
      ];

/** Brain tissue oxygen, temperature and end-tidal CO2, as far as they were exported. */
export function OtherSection({ perfusion }: { perfusion: PerfusionResult }): JSX.Element | null {
  const { oxygen, temperature, endTidalCo2 } = perfusion;
  const rows = [
    ...rowOf(
      'Brain tissue oxygen',
      'mmHg',
      oxygen,
      oxygen === null ? '' : `${duration(oxygen.hoursBelow)} below ${oxygen.belowMmHg} mmHg`,
    ),
    ...rowOf('Temperature', '°C', temperature, ''),
    ...rowOf('End-tidal CO2', 'mmHg', endTidalCo2, ''),
  ];
  if (rows.length === 0) return null;
  return (
    <section>
      <h2>Oxygen, temperature and carbon dioxide</h2>
      <Table
        kind="wraps"
        caption="As exported: no rule cleans these channels."
        columns={[
          { head: 'Channel' },
          { head: 'Known', number: true },
          { head: 'Mean', number: true },
          { head: 'Lowest 5\u2011min mean', number: true },
          { head: 'Highest 5\u2011min mean', number: true },
          { head: 'Low', number: true },
        ]}
        rows={rows}
      />
    </section>
  );
}
