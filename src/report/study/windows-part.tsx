import type { JSX } from 'preact';
import { SIDES } from '../charts/study-sides.js';
import { Table } from '../page/table.js';
import type { StudyOutcomeResult, StudyWindowsResult } from '../results-study-cohort.js';
import { counted, share } from '../words.js';
import { hoursNumber, spreadWords } from './spread-words.js';
import { WITH_NEXT } from './with-next.js';

/** `Favourable: GOSE 5 to 8`, as the head of a column or row. */
export const headWords = (words: string): string => `${words.charAt(0).toUpperCase()}${words.slice(1)}`;

const hours = (value: number): string => `${Number(value.toFixed(2))} h`;

/** How many patients have their whole primary window, as a sentence. */
export function windowSentence({ primaryHours, endsBy }: StudyWindowsResult): string {
  const all = endsBy.reduce((sum, { patients }) => sum + patients, 0);
  if (all === 0) return 'Nobody is in the main analysis.';
  const whole = endsBy.find(({ kind }) => kind === 'length')?.patients ?? 0;
  return `The primary window is the first ${hours(primaryHours)} of monitoring; it ends before that at the earliest of withdrawal of treatment, brain death, death, the end of monitoring and the end of ICP in the exports. It has its full length in ${whole} of the ${counted(all, 'patient')} of the main analysis (${share(whole / all)}).`;
}

/** How long the patients of the main analysis were monitored, and what cut their windows. */
export function WindowsPart({
  outcome,
  windows,
}: {
  outcome: StudyOutcomeResult;
  windows: StudyWindowsResult;
}): JSX.Element {
  const { monitoredHours, endsBy, remarks } = windows;
  const shown = endsBy.filter(({ patients }) => patients > 0);
  return (
    <>
      <h3>The time that counts</h3>
      <p style={WITH_NEXT}>{windowSentence(windows)}</p>
      {shown.length > 0 && (
        <div class="beside-each-other">
          <Table
            caption="Monitored hours of ICP in the primary window"
            columns={[
              { head: 'Outcome' },
              { head: 'Patients', number: true },
              { head: 'Median (quartiles), h', number: true },
            ]}
            rows={SIDES.map((side) => ({
              key: side,
              cells: [
                headWords(outcome.words[side]),
                String(outcome.counts[side]),
                spreadWords(monitoredHours[side], hoursNumber),
              ],
            }))}
          />
          <Table
            caption="What ends the primary window"
            columns={[{ head: 'Ends by' }, { head: 'Patients', number: true }]}
            rows={shown.map(({ kind, title, patients }) => ({ key: kind, cells: [title, String(patients)] }))}
          />
        </div>
      )}
      {remarks.length > 0 && (
        <>
          <p>What the table and the exports of these patients leave open, in how many of them:</p>
          <ul>
            {remarks.map(({ remark, patients }) => (
              <li key={remark}>
                {patients}: {remark}
              </li>
            ))}
          </ul>
        </>
      )}
    </>
  );
}
