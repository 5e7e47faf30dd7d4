import type { ComponentChildren, JSX } from 'preact';
import { type Column, Table } from '../page/table.js';
import type { StudyFeatureResult } from '../results-study-features.js';
import { oddsCell, waldCell, whomOf } from './odds-cells.js';
import { logisticNote, ordinalNote } from './odds-notes.js';
import { oddsText, pText, stepText } from './study-numbers.js';

interface OddsTableProps {
  readonly features: readonly StudyFeatureResult[];
  /** False where nothing is named to adjust by. */
  readonly hasAdjusters: boolean;
}

const named = (feature: StudyFeatureResult): string => `${feature.title}, ${stepText(feature)}`;

const P_COLUMNS: readonly Column[] = [
  { head: 'p', number: true },
  { head: 'p, Holm', number: true },
];

const ofAdjusted = <T,>(hasAdjusters: boolean, ...parts: readonly T[]): readonly T[] =>
  hasAdjusters ? parts : [];

/** Unfavourable against favourable outcomes. */
export function LogisticTable({ features, hasAdjusters }: OddsTableProps): JSX.Element {
  return (
    <Table
      kind="wraps"
      caption="Unfavourable against favourable outcomes, logistic regression: odds ratio with 95 % profile interval, and how many unfavourable outcomes of how many patients. Few events: patients of the smaller group for each variable of the model, where they are under 10. Firth's: by penalised likelihood, since the variables part the outcomes; Wald's interval does not hold there. p of the likelihood ratio test, as it is and adjusted by Holm over the features"
      columns={[
        { head: 'Feature and step' },
        { head: 'Unadjusted', number: true },
        ...P_COLUMNS,
        ...ofAdjusted<Column>(
          hasAdjusters,
          { head: 'Unadjusted, complete patients', number: true },
          { head: 'Adjusted, the same patients', number: true },
          ...P_COLUMNS,
        ),
      ]}
      rows={features.map((feature) => {
        const { key, logistic, adjusted, tests } = feature;
        return {
          key,
          cells: [
            named(feature),
            oddsCell(logistic, whomOf(logistic)),
            pText(tests.logistic.p),
            pText(tests.logistic.holmP),
            ...ofAdjusted<ComponentChildren>(
              hasAdjusters,
              oddsText(adjusted.unadjusted),
              oddsCell(adjusted.logistic, whomOf(adjusted.logistic)),
              pText(tests.adjustedLogistic.p),
              pText(tests.adjustedLogistic.holmP),
            ),
          ],
          note: logisticNote(feature, hasAdjusters),
        };
      })}
    />
  );
}

/** A worse outcome over the whole scale. */
export function OrdinalTable({ features, hasAdjusters }: OddsTableProps): JSX.Element {
  const whom = (model: StudyFeatureResult['ordinal']): string[] =>
    model === null ? [] : [`${model.patients} patients, ${model.levels} levels`];
  return (
    <Table
      kind="wraps"
      caption="A worse outcome over the whole scale, proportional odds: one odds ratio with 95 % profile interval for all cuts of the scale. That it is the same at each cut is taken for granted and not tested"
      columns={[
        { head: 'Feature and step' },
        { head: 'Unadjusted', number: true },
        ...P_COLUMNS,
        ...ofAdjusted<Column>(hasAdjusters, { head: 'Adjusted', number: true }, ...P_COLUMNS),
      ]}
      rows={features.map((feature) => {
        const { key, ordinal, adjusted, tests } = feature;
        return {
          key,
          cells: [
            named(feature),
            oddsCell(ordinal, whom(ordinal)),
            pText(tests.ordinal.p),
            pText(tests.ordinal.holmP),
            ...ofAdjusted<ComponentChildren>(
              hasAdjusters,
              oddsCell(adjusted.ordinal, whom(adjusted.ordinal)),
              pText(tests.adjustedOrdinal.p),
              pText(tests.adjustedOrdinal.holmP),
            ),
          ],
          note: ordinalNote(feature, hasAdjusters),
        };
      })}
    />
  );
}

/** The same odds ratios by the standard error. */
export function WaldTable({ features, hasAdjusters }: OddsTableProps): JSX.Element {
  const hasScale = features.some(({ ordinal, adjusted }) => ordinal !== null || adjusted.ordinal !== null);
  const pairs = [
    { head: 'Unfavourable, unadjusted', of: (one: StudyFeatureResult) => one.logistic },
    ...ofAdjusted(hasAdjusters, {
      head: 'Unfavourable, adjusted',
      of: (one: StudyFeatureResult) => one.adjusted.logistic,
    }),
    ...(hasScale
      ? [
          { head: 'Whole scale, unadjusted', of: (one: StudyFeatureResult) => one.ordinal },
          ...ofAdjusted(hasAdjusters, {
            head: 'Whole scale, adjusted',
            of: (one: StudyFeatureResult) => one.adjusted.ordinal,
          }),
        ]
      : []),
  ];
  return (
    <Table
      kind="wraps"
      caption="The same odds ratios with 95 % intervals by the standard error (Wald), and their p"
      columns={[{ head: 'Feature and step' }, ...pairs.map(({ head }) => ({ head, number: true }))]}
      rows={features.map((feature) => ({
        key: feature.key,
        cells: [named(feature), ...pairs.map(({ of }) => waldCell(of(feature)))],
      }))}
    />
  );
}
