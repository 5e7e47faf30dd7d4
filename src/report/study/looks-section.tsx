import type { JSX } from 'preact';
import { Table } from '../page/table.js';
import type { EstimateResult } from '../results-estimate.js';
import type { StudyLookResult } from '../results-study-features.js';
import { Below } from './below.js';
import { areaText, boundsText, oddsText, pText, stepText } from './study-numbers.js';
import { WITH_NEXT } from './with-next.js';

type Feature = StudyLookResult['features'][number];

const headOf = ({ title, patients, unfavourable }: StudyLookResult): string =>
  `${title}; ${unfavourable} of ${patients} unfavourable`;

const areaCell = ({ area, rankSumP, known }: Feature, patients: number): JSX.Element => (
  <Below
    value={areaText(area.value)}
    lines={[
      boundsText(area, areaText),
      rankSumP === null ? '' : `p ${pText(rankSumP)}`,
      known === patients ? '' : `known of ${known}`,
    ]}
  />
);

const oddsWords = (odds: EstimateResult, isPenalised: boolean): string => {
  const bounds = boundsText(odds, oddsText);
  return `${oddsText(odds.value)}${bounds === '' ? '' : ` (${bounds})`}${isPenalised ? " Firth's" : ''}`;
};

const oddsCell = ({ odds, oddsPenalised, adjustedOdds, adjustedOddsPenalised }: Feature): JSX.Element => (
  <Below
    value={oddsWords(odds, oddsPenalised)}
    lines={[
      odds.value === null && adjustedOdds.value === null
        ? ''
        : `adjusted ${oddsWords(adjustedOdds, adjustedOddsPenalised)}`,
    ]}
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
  if (found.size === 0) return '';
  const parts = [...found].map(
    ([reason, titles]) =>
      `${reason} (${titles.length === looks.length ? 'in each look' : titles.join('; ')})`,
  );
  return `Missing: ${parts.join('; ')}.`;
}

const reasonsOf = (...figures: readonly EstimateResult[]): string[] =>
  figures.flatMap(({ reason }) => (reason === undefined ? [] : [reason]));

/** Why no look compares anything; null where one does. */
function whyNothing(looks: readonly StudyLookResult[]): string | null {
  const all = looks.flatMap(({ features }) => features);
  if (all.some(({ area }) => area.value !== null)) return null;
  return [...new Set(all.map(({ area }) => area.reason ?? ''))].join('; ');
}

/** The same question asked of other patients, and of another time. */
export function LooksSection({ looks }: { looks: readonly StudyLookResult[] }): JSX.Element | null {
  const [main] = looks;
  if (main === undefined) return null;
  const nothing = whyNothing(looks);
  const columns = [{ head: 'Feature' }, ...looks.map((look) => ({ head: headOf(look), number: true }))];
  return (
    <section>
      <h2>The same question asked again</h2>
      <p style={WITH_NEXT}>
        Beside the main analysis: without the patients of whom the table says that treatment was withdrawn,
        since a withdrawal may follow from an expected outcome; and over the whole stay of all patients, whose
        lengths differ. Each look parts and analyses its own patients. Their p are not adjusted: they show how
        far the answer hangs on a choice, and none of them replaces the main analysis.
      </p>
      {nothing !== null && <p>In none of them can anything be compared: {nothing}.</p>}
      {nothing === null && (
        <Table
          kind="wraps"
          caption="Area under the ROC curve with DeLong's 95 % interval, p of the rank sum test, and of how many patients the feature is known where it is not of all"
          columns={columns}
          rows={main.features.map(({ key, title }, i) => ({
            key,
            cells: [title, ...looks.map(({ features, patients }) => areaCell(features[i], patients))],
            note: noteOf(looks, i, ({ area }) => reasonsOf(area)),
          }))}
        />
      )}
      {nothing === null && (
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
      )}
    </section>
  );
}
