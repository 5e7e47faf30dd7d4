import { renderPage } from '../page/page.js';
import { runningTitle } from '../page/running-title.js';
import { patientTitle } from '../page-input.js';
import { isOverADay, span } from '../words.js';
import { AgreementSection } from './agreement-section.js';
import { BedsideSection } from './bedside-section.js';
import { CleaningSection } from './cleaning-section.js';
import { EpisodeSection } from './episode-section.js';
import { FiguresSection } from './figures-section.js';
import { filesWords } from './files-words.js';
import { MadeSection } from './made-section.js';
import { PageNotes } from './page-notes.js';
import type { PatientPageInput } from './patient-page-input.js';

/** Everything beside the morning page: a strip for each episode, perfusion, every removal. A whole HTML document. */
export function detailPage(input: PatientPageInput): string {
  const { result, logs, period, title, drawings } = input;
  return renderPage({
    title: `${patientTitle(input)}, in detail`,
    running: runningTitle(`Patient ${result.id} in detail`, period),
    subtitle: (
      <>
        {title}. {span(period.start, period.end)} ({period.timezone}). {filesWords(result)}
      </>
    ),
    links: [
      { href: 'index.html', text: 'All patients' },
      { href: result.page ?? '', text: 'The morning page of this patient' },
    ],
    children: (
      <>
        <p class="answer">{result.sentence}</p>
        <PageNotes {...input} isInDetail />
        <EpisodeSection {...input} />
        <FiguresSection {...input} />
        <BedsideSection {...input} />
        <CleaningSection {...input} />
        <AgreementSection result={result} isLong={isOverADay(period)} svg={drawings.difference} />
        <MadeSection result={result} logs={logs} />
      </>
    ),
  });
}
