import { Fold } from '../page/fold.js';
import { renderPage } from '../page/page.js';
import { runningTitle } from '../page/running-title.js';
import { patientTitle } from '../page-input.js';
import { span } from '../words.js';
import { EpisodeTable } from './episode-table.js';
import { filesWords } from './files-words.js';
import { DayTable, HourTable } from './hour-table.js';
import { MadeInShort } from './made-section.js';
import { OverviewSection } from './overview-section.js';
import { PageNotes } from './page-notes.js';
import type { PatientPageInput } from './patient-page-input.js';
import { TrustSection } from './trust-section.js';

/** The morning page of one patient, as a whole HTML document: two sheets of paper at most. */
export function patientPage(input: PatientPageInput): string {
  const { result, period, title, targets, episodeMinutes } = input;
  const isByDay = result.days.length > 0;
  return renderPage({
    title: patientTitle(input),
    running: runningTitle(`Patient ${result.id}`, period),
    subtitle: (
      <>
        {title}. {span(period.start, period.end)} ({period.timezone}). {filesWords(result)}
      </>
    ),
    links: [
      { href: 'index.html', text: 'All patients' },
      { href: result.detailPage ?? '', text: 'In detail: every episode, removal and figure' },
    ],
    children: (
      <>
        <p class="answer">{result.sentence}</p>
        <PageNotes {...input} />
        <OverviewSection {...input} />
        <EpisodeTable
          result={result}
          thresholdMmHg={targets.icpThresholdMmHg}
          minMinutes={episodeMinutes}
          word={period.word}
        />
        <section>
          <h2>{isByDay ? 'Day by day' : 'Hour by hour'}</h2>
          {isByDay ? (
            <DayTable result={result} targets={targets} />
          ) : (
            <HourTable result={result} targets={targets} />
          )}
        </section>
        <TrustSection {...input} />
        <Fold title="Handover as plain text, to be copied">
          <pre>{result.handover.join('\n')}</pre>
        </Fold>
        <MadeInShort result={result} />
      </>
    ),
  });
}
