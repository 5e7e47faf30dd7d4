import type { JSX } from 'preact';
import { bandName } from '../morning/figure-rows.js';
import { type Row, Table } from '../page/table.js';
import { index } from '../reactivity-words.js';
import type { PerfusionResult } from '../results-perfusion.js';
import { duration, NONE, pressure, share } from '../words.js';
import { bracketed } from './bracketed.js';

const rowOf = (
  name: string,
  one: PerfusionResult['prx'],
  hasLimit: boolean,
  figure: (text: string) => string,
): Row => ({
  key: name,
  cells: [
    name,
    figure(index(one.mean)),
    ...(hasLimit
      ? [
          figure(duration(one.hoursAboveLimit)),
          figure(one.shareAboveLimit === null ? NONE : share(one.shareAboveLimit)),
        ]
      : [NONE, NONE]),
    duration(one.computableHours),
    share(one.computableShare),
  ],
});

/** Both indices side by side; nothing where neither could be computed. */
export function IndexTable({ perfusion }: { perfusion: PerfusionResult }): JSX.Element | null {
  const { prx, minuteIndex, limit } = perfusion;
  if (prx.mean === null && minuteIndex.mean === null) return null;
  const figure = bracketed(perfusion.prxDoubt !== null);
  return (
    <Table
      kind="wraps"
      columns={[
        { head: 'Index' },
        { head: 'Mean', number: true },
        { head: `Above ${limit}`, number: true },
        { head: 'Share of what could be computed', number: true },
        { head: 'Could be computed', number: true },
        { head: 'Share of the period', number: true },
      ]}
      rows={[
        rowOf('PRx (10-s means, windows of 5 min)', prx, true, figure),
        rowOf('Low-frequency index (1-min means, windows of 20 min)', minuteIndex, false, figure),
      ]}
    />
  );
}

/** Mean PRx in each band of CPP with the minutes behind it: what was measured, and no curve. */
function ByCppTable({
  perfusion: { prxByCpp, prxDoubt },
}: {
  perfusion: PerfusionResult;
}): JSX.Element | null {
  const figure = bracketed(prxDoubt !== null);
  if (prxByCpp.every(({ minutes }) => minutes === 0)) return null;
  return (
    <Table
      caption="PRx by CPP, as measured"
      columns={[
        { head: 'Band, mmHg' },
        { head: 'Mean PRx', number: true },
        { head: 'Minutes with PRx', number: true },
      ]}
      rows={prxByCpp.map((band, i) => ({
        key: `${band.fromMmHg}`,
        cells: [
          bandName({ ...band, hours: null }, i === prxByCpp.length - 2),
          figure(index(band.meanPrx)),
          String(band.minutes),
        ],
      }))}
    />
  );
}

/** Pulse amplitude and RAP; empty without a waveform. */
export function pulseWords({ pulse }: PerfusionResult): string {
  if (pulse === null) return '';
  const amplitude =
    pulse.meanAmplitudeMmHg === null
      ? `The pulse of ICP cannot be told: ${pulse.meanAmplitudeMmHgReason}.`
      : `The pulse amplitude of ICP averaged ${pressure(pulse.meanAmplitudeMmHg, 1)} mmHg over ${duration(pulse.knownHours)}.`;
  const rap =
    pulse.meanRap === null
      ? `RAP could not be computed: ${pulse.meanRapReason}.`
      : `RAP, how closely the amplitude follows mean ICP, averaged ${index(pulse.meanRap)} over ${duration(pulse.rapHours)}.`;
  return `${amplitude} ${rap}`;
}

/** Autoregulation: PRx, its variant from minute data under its own name, and RAP where there is a waveform. */
export function ReactivitySection({ perfusion }: { perfusion: PerfusionResult }): JSX.Element {
  const pulse = pulseWords(perfusion);
  return (
    <section>
      <h2>Autoregulation: how ICP follows arterial pressure</h2>
      <p>{perfusion.prx.sentence}</p>
      <p>{perfusion.minuteIndex.sentence}</p>
      <IndexTable perfusion={perfusion} />
      <ByCppTable perfusion={perfusion} />
      {pulse !== '' && <p>{pulse}</p>}
      {(perfusion.prx.mean ?? perfusion.minuteIndex.mean) !== null && (
        <p class="small">
          Near 0 or below, ICP does not follow slow changes of arterial pressure: vessels react to them.
          Towards 1 it follows passively. The index says nothing of the minutes for which it could not be
          computed, and is moved by whatever moves ICP and arterial pressure together, such as coughing,
          turning or treatment.{' '}
          {perfusion.prxByCpp.length > 0 &&
            'By CPP: the mean of the same 5 min; it does not say what another CPP would have done.'}
        </p>
      )}
    </section>
  );
}
