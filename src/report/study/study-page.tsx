import type { Draw } from '../charts/spec.js';
import { renderPage } from '../page/page.js';
import type { UnitResults } from '../results-schema.js';
import type { StudyResult } from '../results-study.js';
import { counted } from '../words.js';
import { drawCohort } from './cohort-drawings.js';
import { CriteriaSection } from './criteria-section.js';
import { DaysSection } from './days-section.js';
import { drawDose } from './dose-drawings.js';
import { DoseSection } from './dose-section.js';
import { drawFeatures } from './feature-drawings.js';
import { FeaturesSection } from './features-section.js';
import { FlowSection } from './flow-section.js';
import { holdTogether } from './hold-together.js';
import { LooksSection } from './looks-section.js';
import { StudyMadeSection } from './made-section.js';
import { drawMaps } from './map-drawings.js';
import { MapSection } from './map-section.js';
import { OddsSection } from './odds-section.js';
import { OutcomeSection } from './outcome-section.js';
import { TableOneSection } from './table-one-section.js';
import { WordsSection } from './words-section.js';

/** The page of an outcome study, as a whole HTML document: no patient can be told on it. */
export async function studyPage(results: UnitResults, study: StudyResult, draw: Draw): Promise<string> {
  const { pipeline, failed } = results;
  const { flow, outcome, windows, tableOne, features, asked, looks, dose, maps, days } = study;
  const cohort = await drawCohort(study, draw);
  const { forest } = await drawFeatures(study, draw);
  const page = renderPage({
    title: pipeline.title,
    running: pipeline.title,
    subtitle: `${counted(flow.inTable, 'patient')} in the cohort table, ${study.patients} in the main analysis; the first ${asked.primaryHours} h of monitoring.`,
    children: (
      <>
        <div class="answer">
          <p>{study.sentence}</p>
        </div>
        <WordsSection words={study.words} />
        <FlowSection flow={flow} notRead={failed.length} />
        <CriteriaSection criteria={study.criteria} />
        <OutcomeSection outcome={outcome} windows={windows} svg={cohort.outcome} />
        <TableOneSection tableOne={tableOne} outcome={outcome} />
        <FeaturesSection features={features} outcome={outcome} />
        <OddsSection features={features} asked={asked} outcome={outcome} svg={forest} />
        <LooksSection looks={looks} />
        <DoseSection dose={dose} drawings={await drawDose(dose, draw)} outcome={outcome} />
        <MapSection maps={maps} drawings={await drawMaps(maps, draw)} />
        <DaysSection days={days} outcome={outcome} svgs={cohort.days} />
        <StudyMadeSection results={results} study={study} />
      </>
    ),
  });
  return holdTogether(page);
}
