import type { JSX } from 'preact';
import { Fold } from '../page/fold.js';
import { bedsideEvents, eventsIn } from './bedside-events.js';
import { BedsideTable } from './bedside-table.js';
import { bedsideWords } from './bedside-words.js';
import type { PatientPageInput } from './patient-page-input.js';

/** What the alarm log and the care log tell of the period; nothing where no log was given. */
export function BedsideSection({ result }: PatientPageInput): JSX.Element | null {
  const words = bedsideWords(result);
  if (words === '') return null;
  const events = eventsIn(bedsideEvents(result.bedside), result.period);
  return (
    <section>
      <h2>At the bedside</h2>
      <p>
        {words} Log and monitor may run on different clocks: a minute or two beside each other is no finding.
        Acknowledged is not treated.
      </p>
      {events.length > 0 && (
        <Fold
          title={`${events.length === 1 ? 'The one line' : `All ${events.length} lines`} of the logs, by time`}
        >
          <BedsideTable events={events} period={result.period} />
        </Fold>
      )}
    </section>
  );
}
