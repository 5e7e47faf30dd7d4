import { renderPage } from '../../../src/report/page/page.js';
import type { ValidationResults } from '../results.js';
import { answerOf } from './answer.js';
import { ArtifactTables, BySampling } from './artifact-tables.js';
import { CauseTable } from './cause-table.js';
import { DoseTable } from './dose-table.js';
import { EpisodeCounts, EpisodeList } from './episode-tables.js';
import { Limits } from './limits.js';
import { Made } from './made.js';
import { TargetsTable } from './targets-table.js';
import { LostByEvent, LostBySampling, RuleTable } from './true-tables.js';

/** The validation report as an HTML document: a pure function of the results. */
export function validationPage(results: ValidationResults): string {
  const { samplings, patients, hoursEach } = results;
  const second = samplings[0];
  return renderPage({
    title: 'How well cleaning tells artifacts from true ICP',
    running: 'How well cleaning tells artifacts from true ICP',
    subtitle: `${patients} invented patients of ${hoursEach} h with the truth known for every second, at four samplings.`,
    children: (
      <>
        <p class="answer">{answerOf(results)}</p>
        <h2>Targets</h2>
        <TargetsTable verdicts={results.verdicts} />
        <h2>Artifacts at 1 s</h2>
        <ArtifactTables summary={second} />
        <h2>Artifacts by sampling</h2>
        <BySampling samplings={samplings} />
        <h2>True hypertension that was marked</h2>
        <LostBySampling samplings={samplings} />
        <LostByEvent summary={second} />
        <RuleTable summary={second} />
        <h2>Dose</h2>
        <DoseTable samplings={samplings} />
        <CauseTable summary={second} />
        <h2>Episodes</h2>
        <EpisodeCounts samplings={samplings} />
        <EpisodeList samplings={samplings} state="missed" />
        <EpisodeList samplings={samplings} state="invented" />
        <Limits samplings={samplings} />
        <Made results={results} />
      </>
    ),
  });
}
