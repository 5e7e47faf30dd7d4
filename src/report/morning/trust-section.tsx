import type { JSX } from 'preact';
import type { RecordingResult } from '../results-schema.js';
import { isTooCoarse } from '../sampling-note.js';
import { counted, share } from '../words.js';
import { agreementWords } from './agreement-section.js';
import { BurdenTable } from './burden-table.js';
import { CleaningStripChart } from './cleaning-strip-chart.js';
import { careBesideWords } from './log-lines.js';
import { nothingSuspectWords } from './nothing-suspect.js';
import type { PatientPageInput } from './patient-page-input.js';
import { takenWords } from './taken-words.js';

/** `After cleaning, ICP is known for 99 % of the time.` */
function knownWords({ cleaning, knownShare }: RecordingResult): string {
  const known = `ICP is known for ${share(knownShare)} of the time`;
  return cleaning.isOff ? `Nothing was cleaned; as exported, ${known}.` : `After cleaning, ${known}.`;
}

/** So many remarks on how the files were read stand on the morning page; the page in detail has all. */
const MOST_WARNINGS = 4;

/** What to know of the data themselves: how they were read, what no rule could look for, the other source of ICP. */
function checksOf(result: RecordingResult): string[] {
  const { readingWarnings, cleaning, agreement } = result;
  const rest = readingWarnings.length - MOST_WARNINGS;
  // The top of the page names those for which the sampling is too coarse.
  const aside = cleaning.stoodAside.filter((rule) => !isTooCoarse(rule)).length;
  return [
    ...readingWarnings.slice(0, MOST_WARNINGS),
    rest > 0 ? `And ${rest} more of how the files were read, on the detail page.` : '',
    result.suspect.length === 0 ? nothingSuspectWords(result) : '',
    careBesideWords(result),
    agreement === null ? '' : agreementWords(agreement),
    aside === 0
      ? ''
      : `${counted(aside, 'cleaning rule')} could not be used on these data: the detail page names ${aside === 1 ? 'it' : 'them'} and says why.`,
  ].filter((words) => words !== '');
}

/** What is known after cleaning, what was left out, and what to know of the data themselves. */
export function TrustLead({
  result,
  checks,
}: {
  readonly result: RecordingResult;
  readonly checks: readonly string[];
}): JSX.Element {
  return (
    <>
      <p>
        {knownWords(result)} {takenWords(result)}
      </p>
      {checks.length > 0 && (
        <ul>
          {checks.map((check) => (
            <li key={check}>{check}</li>
          ))}
        </ul>
      )}
    </>
  );
}

/** How far the figures can be trusted, in short; the detail page has each removal. */
export function TrustSection(input: PatientPageInput): JSX.Element {
  const { result, targets } = input;
  return (
    <section>
      <h2>How far to trust it</h2>
      <TrustLead result={result} checks={checksOf(result)} />
      <CleaningStripChart {...input} />
      <BurdenTable result={result} targets={targets} />
    </section>
  );
}
