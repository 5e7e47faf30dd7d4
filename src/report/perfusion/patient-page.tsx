import type { JSX } from 'preact';
import { filesWords } from '../morning/files-words.js';
import { LevellingNote } from '../morning/levelling-note.js';
import { PageNotes } from '../morning/page-notes.js';
import { renderPage } from '../page/page.js';
import { runningTitle } from '../page/running-title.js';
import { type PageInput, patientTitle } from '../page-input.js';
import { span } from '../words.js';
import { CppSection } from './cpp-section.js';
import { JointSection } from './joint-section.js';
import { mapNotes } from './known-first.js';
import { notLevelledWords } from './levelling-words.js';
import { PerfusionMadeSection } from './made-section.js';
import { OptimalSection } from './optimal-section.js';
import { OtherSection } from './other-section.js';
import { OverviewSection } from './overview-section.js';
import type { PerfusionDrawings } from './page-drawings.js';
import { ReactivitySection } from './reactivity-section.js';
import { PerfusionTrustSection } from './trust-section.js';
import { WavesSection } from './waves-section.js';

/** What the page of perfusion of a patient is made from. */
export interface PerfusionPageInput extends PageInput {
  readonly drawings: PerfusionDrawings;
}

/** The sections of figures; what rests on CPP says why where there is none. */
function Figures({ result, targets, period, drawings }: PerfusionPageInput): JSX.Element {
  const { perfusion } = result;
  const hasCpp = result.cpp.meanMmHg !== null;
  return (
    <>
      <CppSection result={result} />
      {hasCpp && <JointSection result={result} targets={targets} />}
      <ReactivitySection perfusion={perfusion} />
      <OtherSection perfusion={perfusion} />
      <WavesSection result={result} perfusion={perfusion} />
      <OptimalSection result={result} drawings={drawings} timezone={period.timezone} />
    </>
  );
}

/** The page of perfusion of one patient, as a whole HTML document. */
export function perfusionPage(input: PerfusionPageInput): string {
  const { result, logs, period, title } = input;
  return renderPage({
    title: patientTitle(input, 'perfusion, '),
    running: runningTitle(`Patient ${result.id}, perfusion`, period),
    subtitle: (
      <>
        {title}. {span(period.start, period.end)} ({period.timezone}). {filesWords(result)}
      </>
    ),
    links: [{ href: 'index.html', text: 'All patients' }],
    children: (
      <>
        <p class="answer">{result.sentence}</p>
        {mapNotes(result).map((note) => (
          <p key={note}>
            <strong>{note}</strong>
          </p>
        ))}
        {notLevelledWords(result) === null && <LevellingNote result={result} isInDetail />}
        <PageNotes {...input} />
        <OverviewSection {...input} />
        <Figures {...input} />
        <PerfusionTrustSection {...input} />
        <PerfusionMadeSection result={result} logs={logs} />
      </>
    ),
  });
}
