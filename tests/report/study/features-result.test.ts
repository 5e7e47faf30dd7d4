import { describe, expect, it } from 'vitest';
import { studyFeatures, studyLooks } from '../../../src/report/results-study-features.js';
import type { Figure } from '../../../src/summarize/figure.js';
import { featureAnalyses, TEST_KINDS } from '../../../src/summarize/study/analysis/feature-analysis.js';
import { guardWords } from '../../../src/summarize/study/analysis/guard-words.js';
import { outcomeGroups } from '../../../src/summarize/study/analysis/outcome-groups.js';
import type { OddsRatio } from '../../../src/summarize/study/analysis/step-odds.js';
import { patientOver } from '../../../src/summarize/study/study-cohort.js';
import { analysed, withGose } from './analysed.js';

const USUAL = analysed({ patients: 70, seed: 3 });
const PARTED = analysed({ patients: 40, change: withGose((mean) => (mean > 17 ? 3 : 6)) });
const FIVE = analysed({ patients: 6 });

/** A figure as it goes out. */
const out = (figure: Figure): number | null => (typeof figure === 'number' ? figure : null);
const why = (figure: Figure): string | undefined => (typeof figure === 'number' ? undefined : figure.reason);

/** All figures of an odds ratio beside their reasons, in both forms. */
const ofAnalysis = ({ value, wald, profile }: OddsRatio) =>
  [value, wald.lower, wald.upper, wald.p, profile.lower, profile.upper, profile.p].map((one) => [
    out(one),
    why(one),
  ]);

type Ratio = NonNullable<(typeof USUAL.features)[number]['logistic']>;
const ofResult = ({
  value,
  valueReason,
  wald,
  profile,
}: Pick<Ratio, 'value' | 'valueReason' | 'wald' | 'profile'>) => [
  [value, valueReason],
  ...[wald, profile].flatMap((one) => [
    [one.lower, one.lowerReason],
    [one.upper, one.upperReason],
    [one.p, one.pReason],
  ]),
];

describe.each([
  ['the usual one', USUAL],
  ['one whose outcomes are parted', PARTED],
  ['five patients', FIVE],
])('the features of a cohort in results: %s', (_, { analyses, features, looks, cohort, words }) => {
  it('fit the schema, also as JSON', () => {
    expect(studyFeatures.parse(JSON.parse(JSON.stringify(features)))).toEqual(features);
    expect(studyLooks.parse(JSON.parse(JSON.stringify(looks)))).toEqual(looks);
  });

  it('are those of the analysis to the last bit, each null with its reason', () => {
    expect(features).toHaveLength(analyses.length);
    for (const [i, ours] of features.entries()) {
      const analysis = analyses[i];
      const { groups, adjusted } = analysis;
      expect([ours.key, ours.step, ours.known, ours.missing]).toEqual([
        analysis.key,
        analysis.step,
        analysis.known,
        analysis.missing,
      ]);
      for (const side of ['favourable', 'unfavourable'] as const) {
        const { known, missing, median, lowerQuartile, upperQuartile } = groups.spread[side];
        const { medianReason, lowerQuartileReason, upperQuartileReason, ...figures } = ours.spread[side];
        expect(figures).toEqual({
          known,
          missing,
          median: out(median),
          lowerQuartile: out(lowerQuartile),
          upperQuartile: out(upperQuartile),
        });
        expect([medianReason, lowerQuartileReason, upperQuartileReason]).toEqual(
          [median, lowerQuartile, upperQuartile].map(why),
        );
      }
      expect([ours.pairsHigher, ours.pairsHigherReason]).toEqual([
        out(groups.pairsHigher),
        why(groups.pairsHigher),
      ]);
      expect(ours.rankSumMethod).toBe(groups.method);
      const { value, lower, upper } = groups.area;
      expect([ours.area.value, ours.area.lower, ours.area.upper]).toEqual([value, lower, upper].map(out));
      expect(ours.area.reason).toBe([value, lower, upper].map(why).find((reason) => reason !== undefined));
      for (const kind of TEST_KINDS) {
        const { p, holmP } = analysis.tests[kind];
        expect(ours.tests[kind], kind).toEqual({
          p: out(p),
          holmP: out(holmP),
          ...(why(p) === undefined ? {} : { pReason: why(p), holmPReason: why(holmP) }),
        });
      }
      expect([
        ours.adjusted.adjusters,
        ours.adjusted.leftOut,
        ours.adjusted.complete,
        ours.adjusted.incomplete,
      ]).toEqual([adjusted.adjusters, adjusted.leftOut, adjusted.complete, adjusted.incomplete]);
      expect([ours.adjusted.unadjusted, ours.adjusted.unadjustedReason]).toEqual([
        out(adjusted.unadjusted),
        why(adjusted.unadjusted),
      ]);
      for (const [theirs, model, reason] of [
        [analysis.logistic, ours.logistic, ours.logisticReason],
        [analysis.ordinal, ours.ordinal, ours.ordinalReason],
        [adjusted.logistic, ours.adjusted.logistic, ours.adjusted.logisticReason],
        [adjusted.ordinal, ours.adjusted.ordinal, ours.adjusted.ordinalReason],
      ] as const) {
        expect([model === null, reason]).toEqual(
          'reason' in theirs ? [true, theirs.reason] : [false, undefined],
        );
        if (model === null || 'reason' in theirs) continue;
        expect(ofResult(model)).toEqual(ofAnalysis(theirs));
        expect(theirs).toMatchObject(withoutRatio(model));
      }
    }
  });

  it('are asked again of those without a withdrawal, and over the stay', () => {
    const { flow, groups, cut, settings, adjusters, memberOf } = cohort;
    const kept = groups.coded
      .map(({ patient }) => patient)
      .filter(({ id }) => flow.notWithdrawn.includes(id));
    const stays = groups.coded.map(
      ({ patient }) => patientOver(memberOf.get(patient.id)!, 'stay', settings)!,
    );
    expect(kept.map(({ id }) => id)).toEqual(flow.notWithdrawn);
    const expected = [groups, outcomeGroups(kept, cut), outcomeGroups(stays, cut)];
    expect(looks.map(({ look }) => look)).toEqual(['main', 'notWithdrawn', 'stay']);
    for (const [i, look] of looks.entries()) {
      expect([look.patients, look.unfavourable]).toEqual([
        expected[i].coded.length,
        expected[i].counts.unfavourable,
      ]);
      const again = featureAnalyses(expected[i], settings.chosen, adjusters);
      expect(
        look.features.map((one) => [one.key, one.step, one.known, one.area.value, one.rankSumP]),
      ).toEqual(
        again.map((one) => [one.key, one.step, one.known, out(one.groups.area.value), out(one.groups.p)]),
      );
      for (const [k, one] of look.features.entries()) {
        for (const [estimate, isPenalised, theirs] of [
          [one.odds, one.oddsPenalised, again[k].logistic],
          [one.adjustedOdds, one.adjustedOddsPenalised, again[k].adjusted.logistic],
        ] as const) {
          if ('reason' in theirs) {
            expect([estimate, isPenalised]).toEqual([
              { value: null, lower: null, upper: null, reason: theirs.reason },
              false,
            ]);
          } else {
            expect([estimate.value, estimate.lower, estimate.upper]).toEqual(
              [theirs.value, theirs.profile.lower, theirs.profile.upper].map(out),
            );
            expect(isPenalised).toBe(theirs.separation !== null);
          }
        }
      }
    }
  });

  it('come with the sentences of the analysis, features under their titles', () => {
    const titles = Object.fromEntries(features.map(({ key, title }) => [key, title]));
    expect(words.filter(({ about }) => about !== 'leftOut')).toEqual(
      guardWords(cohort.groups, analyses, titles),
    );
  });
});

/** What of a model is no figure that may be missing. */
function withoutRatio(model: object): object {
  const { value, valueReason, wald, profile, ...rest } = model as Record<string, unknown>;
  return rest;
}

describe('looks', () => {
  it('differ where patients and times differ', () => {
    const [main, notWithdrawn, stay] = USUAL.looks;
    expect(main.patients).toBe(USUAL.cohort.groups.coded.length);
    expect(notWithdrawn.patients).toBeLessThan(main.patients);
    expect(stay.patients).toBe(main.patients);
    const areas = USUAL.looks.map(({ features }) => features[0].area.value);
    expect(new Set(areas).size).toBe(3);
  });

  it('have the figures of the main analysis as they are', () => {
    const [main] = USUAL.looks;
    expect(main.features.map(({ area, rankSumP, odds }) => [area, rankSumP, odds.value])).toEqual(
      USUAL.features.map(({ area, tests, logistic }) => [area, tests.rankSum.p, logistic?.value ?? null]),
    );
  });
});

describe('what was asked', () => {
  it('says of each feature how it is defined, and where that comes from', () => {
    const { chosen } = USUAL.asked;
    expect(chosen.map(({ key, step }) => ({ key, step }))).toEqual(USUAL.cohort.settings.chosen);
    expect(chosen[0]).toEqual({
      key: 'icpMeanMmHg',
      title: 'Mean ICP',
      unit: 'mm[Hg]',
      step: 5,
      definition: 'Integral of ICP over the monitored time, divided by its length.',
      source: 'common practice, no source',
    });
  });
});
