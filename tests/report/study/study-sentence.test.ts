import { describe, expect, it } from 'vitest';
import { inSentence } from '../../../src/report/study/feature-titles.js';
import { studySentence } from '../../../src/report/study/study-sentence.js';
import { type Analysed, analysed, withGose } from './analysed.js';

const of = ({ asked, outcome, features, flow }: Analysed): string =>
  studySentence(asked, outcome, features, flow);
const BOTH = { icpMeanMmHg: 5, cppMeanMmHg: 5 };
const CLEAR = analysed({ patients: 90, logOdds: 3, study: { features: BOTH } });

describe('the answer of a study', () => {
  it('names what goes with an unfavourable outcome, and to which side', () => {
    expect(CLEAR.features.map(({ tests }) => tests.rankSum.holmP! < 0.05)).toEqual([true, true]);
    const { favourable, unfavourable } = CLEAR.outcome.counts;
    expect(of(CLEAR)).toBe(
      `${favourable + unfavourable} patients have a known outcome, which is unfavourable (GOSE 1 to 4) in ${unfavourable}. In the first 72 h of monitoring, higher values of mean ICP, and lower values of mean CPP go with an unfavourable outcome (rank sum test, p adjusted by Holm over 2 features: under 0.05); association is not effect. Of these 2, 2 have an odds ratio adjusted by age, total of the GCS and number of reacting pupils with a p under 0.05 (likelihood ratio, adjusted by Holm).`,
    );
  });

  it('says how many of those are left when they are adjusted', () => {
    const [first, second] = CLEAR.features;
    const at = (feature: typeof first, holmP: number | null) => ({
      ...feature,
      tests: { ...feature.tests, adjustedLogistic: { ...feature.tests.adjustedLogistic, holmP } },
    });
    const end = (...features: readonly (typeof first)[]): string =>
      of({ ...CLEAR, features: [...features] }).split('association is not effect.')[1];
    const ratio = 'odds ratio adjusted by age, total of the GCS and number of reacting pupils';
    const test = '(likelihood ratio, adjusted by Holm)';
    expect(end(at(first, 0.049), at(second, 0.05))).toBe(
      ` Of these 2, 1 has an ${ratio} with a p under 0.05 ${test}.`,
    );
    expect(end(at(first, 0.05), at(second, null))).toBe(
      ` Of these 2, none has an ${ratio} with a p under 0.05 (likelihood ratio, adjusted by Holm); 1 has no such odds ratio.`,
    );
    expect(end(at(first, 0.05))).toBe(` Its ${ratio} has a p of 0.05 or more ${test}.`);
    expect(end(at(first, 0.049))).toBe(` Its ${ratio} has a p under 0.05 ${test}.`);
    expect(end(at(first, null))).toBe(` It has no ${ratio}.`);
    expect(of({ ...CLEAR, asked: { ...CLEAR.asked, adjusters: [] } })).toMatch(
      /association is not effect\.$/,
    );
  });

  it('goes by the p that is adjusted by Holm, and by 0.05 without it', () => {
    const [first, second] = CLEAR.features;
    const at = (p: number, holmP: number) => ({ ...first, tests: { ...first.tests, rankSum: { p, holmP } } });
    expect(of({ ...CLEAR, features: [at(0.03, 0.06), second] })).toContain(
      'lower values of mean CPP go with',
    );
    expect(of({ ...CLEAR, features: [at(0.03, 0.06), second] })).not.toContain('mean ICP');
    expect(of({ ...CLEAR, features: [at(0.03, 0.049_999)] })).toContain('higher values of mean ICP go with');
    expect(of({ ...CLEAR, features: [at(0.03, 0.05)] })).toContain(
      'the feature that is asked about does not go with outcome beyond what chance may bring (rank sum test, p adjusted by Holm over 1 feature: 0.05 or more); that does not show that there is no association.',
    );
  });

  it('says so where none does', () => {
    const none = analysed({ patients: 60, seed: 5, logOdds: 0, study: { features: BOTH } });
    expect(none.features.every(({ tests }) => tests.rankSum.holmP! >= 0.05)).toBe(true);
    expect(of(none)).toContain('In the first 72 h of monitoring, none of 2 features goes with outcome');
    expect(of(none)).not.toContain('values of');
  });

  it('counts what cannot be compared', () => {
    const some = analysed({ patients: 60, logOdds: 3, study: { features: { ...BOTH, prxMean: 0.1 } } });
    expect(of(some)).toContain('over 2 features: under 0.05); 1 more feature cannot be compared;');
    const only = analysed({ patients: 40, study: { features: { prxMean: 0.1 } } });
    expect(of(only)).toMatch(
      /\. No feature can be compared between the outcomes: no patient with an outcome has a value\.$/,
    );
  });

  it('says plainly that there are too few patients', () => {
    const few = analysed({ patients: 6 });
    expect(few.cohort.groups.coded).toHaveLength(5);
    expect(of(few)).toBe(
      `5 patients have a known outcome, which is unfavourable (GOSE 1 to 4) in ${few.outcome.counts.unfavourable}: too few to compare, since a comparison needs 10.`,
    );
  });

  it('says plainly that there is one group, or nobody', () => {
    const all = analysed({ patients: 30, change: withGose(() => 7) });
    expect(of(all)).toBe(
      `${all.outcome.counts.favourable} patients have a known outcome, which is unfavourable (GOSE 1 to 4) in 0: all outcomes are on one side, so that nothing can be compared.`,
    );
    const nobody = { ...all, outcome: { ...all.outcome, counts: { favourable: 0, unfavourable: 0 } } };
    expect(of(nobody)).toBe(
      'No patient of the main analysis has a known outcome, so that nothing can be compared.',
    );
  });

  it('says that all stays were too short, and not that no outcome is known', () => {
    const short = analysed({ patients: 12, study: { primaryHours: 500, leastHours: 400 } });
    expect(of(short)).toBe(
      `None of the ${short.flow.inTable} patients of the table was monitored for long enough (ICP known for 400 h in the first 500 h of monitoring), so that nothing can be compared.`,
    );
  });

  it('names the first of many, and says how many more there are', () => {
    const [first] = CLEAR.features;
    const many = Array.from({ length: 12 }, (_, i) => ({ ...first, key: `${i}`, title: `Feature ${i}` }));
    expect(of({ ...CLEAR, features: many })).toContain(
      'feature 4, feature 5 and 6 more features of the table below go',
    );
  });

  it('keeps names in capitals', () => {
    expect(['Mean ICP', 'Highest 5-min mean of ICP', 'PRx', 'ICP'].map(inSentence)).toEqual([
      'mean ICP',
      'highest 5-min mean of ICP',
      'PRx',
      'ICP',
    ]);
  });
});
