import type { JSX } from 'preact';
import { Table } from '../page/table.js';
import type { StudyFeatureResult } from '../results-study-features.js';
import { NONE } from '../words.js';
import { oddsCell } from './odds-cells.js';
import { oddsText, stepText } from './study-numbers.js';

interface CutsProps {
  readonly features: readonly StudyFeatureResult[];
  /** Of the scale, rising. */
  readonly levels: readonly number[];
}

/** `1 to 4`, on one line. */
const range = (levels: readonly number[]): string => {
  const [from, to] = [levels[0], levels[levels.length - 1]];
  return from === to ? `${from}` : `${from}\u00a0to\u00a0${to}`;
};

/** The cuts that have an odds ratio of any feature, rising. */
const cutsWithOdds = (features: readonly StudyFeatureResult[]): number[] =>
  [...new Set(features.flatMap(({ cuts }) => cuts.flatMap((cut) => (cut.logistic ? [cut.from] : []))))].sort(
    (a, b) => a - b,
  );

/** What the common odds ratio takes for granted, to be looked at: the odds ratio at each cut by itself. */
export function CutsTable({ features, levels }: CutsProps): JSX.Element | null {
  const cuts = cutsWithOdds(features);
  const shown = features.filter((feature) => feature.cuts.some(({ logistic }) => logistic !== null));
  if (cuts.length < 2) return null;
  return (
    <>
      <Table
        kind="wraps"
        caption="The same at each cut of the scale by itself, the worse levels against the better ones: odds ratio with 95 % profile interval of a logistic regression each, unadjusted"
        columns={[
          { head: 'Feature and step' },
          { head: 'All cuts', number: true },
          ...cuts.map((from) => ({
            head: `${range(levels.filter((level) => level < from))} / ${range(levels.filter((level) => level >= from))}`,
            number: true,
          })),
        ]}
        rows={shown.map((feature) => ({
          key: feature.key,
          cells: [
            `${feature.title}, ${stepText(feature)}`,
            feature.ordinal === null ? NONE : oddsText(feature.ordinal.value),
            ...cuts.map((wanted) => {
              const cut = feature.cuts.find(({ from }) => from === wanted);
              return oddsCell(cut?.logistic ?? null, []);
            }),
          ],
        }))}
      />
      <p class="small">
        How to read it: neighbouring cuts share most patients and are alike for that; where the ratios of a
        row drift apart by more than their intervals allow, or change sides of 1, one common ratio does not
        describe the feature. A cut with under 10 patients on a side has none.
      </p>
    </>
  );
}
