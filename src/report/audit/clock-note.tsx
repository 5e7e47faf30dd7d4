import type { JSX } from 'preact';
import { Chart } from '../page/chart.js';
import type { AuditAlarms } from '../results-audit-alarms.js';
import { listed } from '../words.js';
import { lagWords } from './clock-words.js';

/** So many patients are named. */
const MOST_NAMED = 6;

function patientWords({ patients }: AuditAlarms['clock']): string {
  if (patients.length === 0) return '';
  const named = patients
    .slice(0, MOST_NAMED)
    .map(
      ({ patient, offsetsSeconds }) =>
        `${patient} (${offsetsSeconds.map(lagWords).join(', and ')} a crossing)`,
    );
  const more = patients.length - named.length;
  const all = more > 0 ? [...named, `${more} more`] : named;
  return `By their own alarms, these patients may have had another clock than the rest: ${listed(all)}.`;
}

/** Whether the clocks of the alarm log and of the exports are apart; marked where they may be. */
export function ClockNote({
  clock,
  svg,
}: {
  readonly clock: AuditAlarms['clock'];
  readonly svg: string | null;
}): JSX.Element {
  const patients = patientWords(clock);
  const isDoubtful = clock.is === 'apart' || clock.is === 'hours' || clock.is === 'two' || patients !== '';
  return (
    <div class={isDoubtful ? 'note' : undefined}>
      <h3>Clocks of the alarm log and of the exports</h3>
      <p>{clock.sentence}</p>
      {clock.correction !== '' && <p>{clock.correction}</p>}
      {patients !== '' && <p>{patients}</p>}
      {svg !== null && (
        <Chart
          svg={svg}
          title={`Each alarm against each crossing of its own limit up to ${Math.round(clock.reachSeconds / 60)} min before and after: where clocks go alike, pairs pile up a little right of 0; chance spreads.`}
          says={clock.sentence}
        />
      )}
    </div>
  );
}
