import type { JSX } from 'preact';
import { Fold } from '../page/fold.js';
import { isOverADay } from '../words.js';
import { bedsideEvents } from './bedside-events.js';
import { BedsideTable } from './bedside-table.js';
import { bedsideWords } from './bedside-words.js';
import type { PatientPageInput } from './patient-page-input.js';

/** More lines than this are left to the table beside the report. */
const MOST = 200;

/** What the alarm log and the care log tell of the period; nothing where no log was given. */
export function BedsideSection({ result, period }: PatientPageInput): JSX.Element | null {
  const isLong = isOverADay(period);
  const words = bedsideWords(result);
  if (words === '') return null;
  const events = bedsideEvents(result.bedside, result.period);
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
          <BedsideTable events={events.slice(0, MOST)} isLong={isLong} />
          {events.length > MOST && <p>The first {MOST}; all of them are in tables/bedside.csv.</p>}
        </Fold>
      )}
    </section>
  );
}
