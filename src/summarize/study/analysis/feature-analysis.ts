import type { Figure } from '../../figure.js';
import { insist } from '../../statistics/estimate.js';
import { type AdjustedOdds, adjustedOdds } from './adjusted-odds.js';
import { compareGroups, type GroupComparison } from './compare-groups.js';
import { type FeatureCases, featureCases, whyNoComparison } from './feature-cases.js';
import { holmFigures } from './holm-figures.js';
import { type OrdinalOdds, ordinalOdds } from './ordinal-odds.js';
import type { OutcomeGroups } from './outcome-groups.js';
import { type LogisticOdds, logisticOdds, type NoOdds } from './step-odds.js';
import type { Adjuster } from './study-patient.js';

/** A feature that was chosen, and the step that its odds ratios are of, in its unit. */
export interface ChosenFeature {
  readonly key: string;
  readonly step: number;
}

/** Kinds of tests; of regressions it is the likelihood ratio test. */
export const TEST_KINDS = ['rankSum', 'logistic', 'ordinal', 'adjustedLogistic', 'adjustedOrdinal'] as const;
export type TestKind = (typeof TEST_KINDS)[number];

/** A p, and what is left of it where all chosen features are asked the same. */
export interface AdjustedP {
  readonly p: Figure;
  readonly holmP: Figure;
}

/** Whether one feature goes with outcome. */
export interface FeatureAnalysis extends ChosenFeature {
  readonly known: number;
  /** Patients with an outcome and without a value, by reason. */
  readonly missing: FeatureCases['missing'];
  readonly groups: GroupComparison;
  readonly logistic: LogisticOdds | NoOdds;
  readonly ordinal: OrdinalOdds | NoOdds;
  readonly adjusted: AdjustedOdds;
  readonly tests: Readonly<Record<TestKind, AdjustedP>>;
}

type Untested = Omit<FeatureAnalysis, 'tests'>;

function untested(
  groups: OutcomeGroups,
  { key, step }: ChosenFeature,
  adjusters: readonly Adjuster[],
): Untested {
  const cases = featureCases(groups, key);
  const { values, events, codes, missing } = cases;
  const common = { key, step, known: values.length, missing, groups: compareGroups(cases) };
  const reason = whyNoComparison(cases);
  if (reason !== null) {
    const no = { reason };
    const none = { adjusters: [], leftOut: [], complete: 0, incomplete: 0 };
    return {
      ...common,
      logistic: no,
      ordinal: no,
      adjusted: { ...none, logistic: no, ordinal: no, unadjusted: no },
    };
  }
  return {
    ...common,
    logistic: logisticOdds([values], events, step),
    ordinal: ordinalOdds([values], codes, step),
    adjusted: adjustedOdds(cases, adjusters, step),
  };
}

const pOf = (odds: LogisticOdds | OrdinalOdds | NoOdds): Figure =>
  'reason' in odds ? { reason: odds.reason } : odds.profile.p;

const P_OF: Readonly<Record<TestKind, (one: Untested) => Figure>> = {
  rankSum: ({ groups }) => groups.p,
  logistic: ({ logistic }) => pOf(logistic),
  ordinal: ({ ordinal }) => pOf(ordinal),
  adjustedLogistic: ({ adjusted }) => pOf(adjusted.logistic),
  adjustedOrdinal: ({ adjusted }) => pOf(adjusted.ordinal),
};

/**
 * Whether the chosen features go with outcome, each by itself: medians by group, rank sum test, area under the ROC curve, odds
 * per step unadjusted and adjusted, over the cut and over the whole scale. All odds ratios and areas speak of the worse
 * outcome. Each kind of test is adjusted by Holm over the chosen features; that there are several kinds is not adjusted for,
 * so which of them answers has to be settled before. No cut of a feature is searched for: the one that parts best always
 * looks better than it is (Altman et al., J Natl Cancer Inst 1994;86:829-35).
 *
 * @param chosen steps above 0
 * @throws RangeError where a feature comes twice, a step is none, or both GCS total and its motor part are asked for
 */
export function featureAnalyses(
  groups: OutcomeGroups,
  chosen: readonly ChosenFeature[],
  adjusters: readonly Adjuster[],
): FeatureAnalysis[] {
  insist(new Set(chosen.map(({ key }) => key)).size === chosen.length, 'each feature once');
  insist(
    chosen.every(({ step }) => step > 0 && Number.isFinite(step)),
    'steps above 0',
  );
  insist(new Set(adjusters).size === adjusters.length, 'each adjuster once');
  insist(
    !(adjusters.includes('gcsMotor') && adjusters.includes('gcsTotal')),
    'the GCS total or its motor part, which is in it',
  );
  const all = chosen.map((feature) => untested(groups, feature, adjusters));
  const byKind = Object.fromEntries(
    TEST_KINDS.map((kind) => {
      const ps = all.map(P_OF[kind]);
      const adjusted = holmFigures(ps);
      return [kind, ps.map((p, i): AdjustedP => ({ p, holmP: adjusted[i] }))];
    }),
  ) as Record<TestKind, AdjustedP[]>;
  return all.map((one, i) => ({
    ...one,
    tests: Object.fromEntries(TEST_KINDS.map((kind) => [kind, byKind[kind][i]])) as Record<
      TestKind,
      AdjustedP
    >,
  }));
}
