import type { JSX } from 'preact';
import type { StudyResult } from '../results-study.js';

/** What a sentence is about, in a word or two. */
const LEADS: Readonly<Record<string, string>> = {
  association: 'Association is not effect',
  treatment: 'Treated patients',
  oneGroup: 'One group',
  withoutOutcome: 'Unknown outcomes',
  length: 'Monitored time differs',
  totals: 'Totals',
  deaths: 'Cut short',
  fewEvents: 'Size',
  separation: 'Parted outcomes',
  incomplete: 'Complete patients',
  questions: 'Several questions',
  leftOut: 'Left out early',
};

/** What has to be known before the figures are read. */
export function WordsSection({ words }: { words: StudyResult['words'] }): JSX.Element | null {
  if (words.length === 0) return null;
  return (
    <section class="note">
      <h2 style={{ marginTop: '.2rem' }}>Before the figures are read</h2>
      <ul>
        {words.map(({ about, sentence }) => (
          <li key={about}>
            <strong>{LEADS[about] ?? about}.</strong> {sentence}
          </li>
        ))}
      </ul>
    </section>
  );
}
