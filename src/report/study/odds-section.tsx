import type { JSX } from 'preact';
import { FOREST_COLOURS, FOREST_LIMITS, MOST_FOREST_ROWS } from '../charts/study-forest.js';
import { Chart, Key } from '../page/chart.js';
import { Fold } from '../page/fold.js';
import type { StudyResult } from '../results-study.js';
import type { StudyOutcomeResult } from '../results-study-cohort.js';
import { listed } from '../words.js';
import { ADJUSTER_WORDS } from './adjuster-words.js';
import { CutsTable } from './cuts-table.js';
import { forestRows } from './feature-drawings.js';
import { LogisticTable, OrdinalTable, WaldTable } from './odds-tables.js';
import { unfavourableOutcome } from './outcome-words.js';
import { reasonWords } from './reason-words.js';
import { WITH_NEXT } from './with-next.js';

interface OddsProps {
  readonly features: StudyResult['features'];
  readonly asked: Pick<StudyResult['asked'], 'adjusters'>;
  readonly outcome: Pick<StudyOutcomeResult, 'words' | 'levels'>;
  /** Null where there is nothing to draw. */
  readonly svg: string | null;
}

/** Why there is no odds ratio of one kind at all; null where there is one. */
function whyNone(features: StudyResult['features'], kind: 'logistic' | 'ordinal'): string | null {
  const hasAny = features.some((one) => one[kind] !== null || one.adjusted[kind] !== null);
  if (hasAny || features.length === 0) return null;
  return reasonWords(features.map((one) => ({ title: one.title, reason: one[`${kind}Reason`] ?? '' })));
}

function Forest({
  svg,
  hasAdjusters,
  rows,
}: {
  svg: string;
  hasAdjusters: boolean;
  rows: number;
}): JSX.Element {
  const [least, most] = FOREST_LIMITS;
  return (
    <Chart
      svg={svg}
      title={
        <>
          Odds ratios of an unfavourable outcome with 95 % profile intervals, of those with a value
          {hasAdjusters ? ' and, adjusted, of the complete patients' : ''}
          {rows > MOST_FOREST_ROWS ? `; the first ${MOST_FOREST_ROWS} of ${rows} features` : ''}.{' '}
          <Key colour={FOREST_COLOURS.unadjusted}>unadjusted (round)</Key>
          {hasAdjusters && <Key colour={FOREST_COLOURS.adjusted}>adjusted (square)</Key>}
          Hollow: penalised likelihood. An arrow: it goes on beyond the edge; nothing is drawn under {least}{' '}
          or over {most}. Dashed: 1, no association.
        </>
      }
      says="Odds ratios of an unfavourable outcome per step of each feature with their intervals, on a logarithmic axis. The table of odds ratios below has the same figures."
    />
  );
}

/** How much the odds of an unfavourable outcome differ for each step of a feature, unadjusted and adjusted. */
export function OddsSection({ features, asked, outcome, svg }: OddsProps): JSX.Element {
  const hasAdjusters = asked.adjusters.length > 0;
  const words = listed(asked.adjusters.map((adjuster) => ADJUSTER_WORDS[adjuster]));
  const [noOdds, noScale] = [whyNone(features, 'logistic'), whyNone(features, 'ordinal')];
  const tables = { features, hasAdjusters };
  return (
    <section>
      <h2>Odds ratios</h2>
      <p style={WITH_NEXT}>
        The odds of {unfavourableOutcome(outcome)} for each step more of a feature: over 1 where more of it
        goes with a worse outcome. Each feature stands in a model of its own.{' '}
        {hasAdjusters
          ? `Adjusted by ${words}, each as one number, in the patients of whom all of that is known; beside it is the unadjusted odds ratio of the same patients, so that what adjusting does is told from what leaving out the others does.`
          : 'The pipeline file names nothing to adjust by.'}
      </p>
      {svg !== null && <Forest svg={svg} hasAdjusters={hasAdjusters} rows={forestRows(features).length} />}
      {noOdds === null ? <LogisticTable {...tables} /> : <p>There are no such odds ratios: {noOdds}.</p>}
      {noScale === null ? (
        <>
          <OrdinalTable {...tables} />
          <CutsTable features={features} levels={outcome.levels.map(({ code }) => code)} />
        </>
      ) : (
        <p>
          There are none of a worse outcome over the whole scale (proportional odds)
          {noScale === noOdds ? ' either, for the same reasons' : `: ${noScale}`}.
        </p>
      )}
      {(noOdds === null || noScale === null) && (
        <Fold title="Intervals by the standard error (Wald)">
          <WaldTable {...tables} />
        </Fold>
      )}
    </section>
  );
}
