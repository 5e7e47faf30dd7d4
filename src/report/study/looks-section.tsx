import type { JSX } from 'preact';
import { Table } from '../page/table.js';
import type { EstimateResult } from '../results-estimate.js';
import type { StudyLookResult } from '../results-study-features.js';
import { Below } from './below.js';
import { areaText, boundsText, oddsText, pText, stepText } from './study-numbers.js';

type Feature = StudyLookResult['features'][number];

const headOf = ({ title, patients, unfavourable }: StudyLookResult): string =>
  `${title}; ${unfavourable} of ${patients} unfavourable`;

const areaCell = ({ area, rankSumP, known }: Feature): JSX.Element => (
  <Below
    value={areaText(area.value)}
    lines={[boundsText(area, areaText), rankSumP === null ? '' : `p ${pText(rankSumP)}`, `known of ${known}`]}
  />
);

const oddsWords = (odds: EstimateResult, isPenalised: boolean): string => {
  const bounds = boundsText(odds, oddsText);
  return `${oddsText(odds.value)}${bounds === '' ? '' : ` (${bounds})`}${isPenalised ? " Firth's" : ''}`;
};

const oddsCell = ({ odds, oddsPenalised, adjustedOdds, adjustedOddsPenalised }: Feature): JSX.Element => (
  <Below
    value={oddsWords(odds, oddsPenalised)}
    lines={[`adjusted ${oddsWords(adjustedOdds, adjustedOddsPenalised)}`]}
  />
);

/** Why figures of a feature are missing, once for each reason, with the looks that it holds for. */
function noteOf(looks: readonly StudyLookResult[], place: number, part: (one: Feature) => string[]): string {
  const found = new Map<string, string[]>();
  for (const { title, features } of looks) {
    for (const reason of new Set(part(features[place]))) {
      found.set(reason, [...(found.get(reason) ?? []), title]);
    }
  }
  return [...found]
    .map(([reason, titles]) => `${titles.length === looks.length ? 'All' : titles.join('; ')}: ${reason}.`)
    .join(' ');
}

const reasonsOf = (...figures: readonly EstimateResult[]): string[] =>
  figures.flatMap(({ reason }) => (reason === undefined ? [] : [reason]));

/** The same question asked of other patients, and of another time. */
export function LooksSection({ looks }: { looks: readonly StudyLookResult[] }): JSX.Element | null {
  const [main] = looks;
  if (main === undefined) return null;
  const columns = [{ head: 'Feature' }, ...looks.map((look) => ({ head: headOf(look), number: true }))];
  return (
    <section>
      <h2>The same question asked again</h2>
      <p>
        Beside the main analysis: without the patients of whom the table says that treatment was withdrawn,
        since a withdrawal may follow from an expected outcome; and over the whole stay of all patients, whose
        lengths differ. Each look parts and analyses its own patients. Their p are not adjusted: they show how
        far the answer hangs on a choice, and none of them replaces the main analysis.
      </p>
      <Table
        kind="wraps"
        caption="Area under the ROC curve with DeLong's 95 % interval, p of the rank sum test, and patients of whom the feature is known"
        columns={columns}
        rows={main.features.map(({ key, title }, i) => ({
          key,
          cells: [title, ...looks.map(({ features }) => areaCell(features[i]))],
          note: noteOf(looks, i, ({ area }) => reasonsOf(area)),
        }))}
      />
      <Table
        kind="wraps"
        caption="Odds ratio of an unfavourable outcome with its 95 % profile interval, and below it the adjusted one"
        columns={columns}
        rows={main.features.map((feature, i) => ({
          key: feature.key,
          cells: [
            `${feature.title}, ${stepText(feature)}`,
            ...looks.map(({ features }) => oddsCell(features[i])),
          ],
          note: noteOf(looks, i, ({ odds, adjustedOdds }) => reasonsOf(odds, adjustedOdds)),
        }))}
      />
    </section>
  );
}
