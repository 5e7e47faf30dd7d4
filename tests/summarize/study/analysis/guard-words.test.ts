import { describe, expect, it } from 'vitest';
import { featureAnalyses } from '../../../../src/summarize/study/analysis/feature-analysis.js';
import { guardWords } from '../../../../src/summarize/study/analysis/guard-words.js';
import { outcomeGroups, USUAL_CUTS } from '../../../../src/summarize/study/analysis/outcome-groups.js';
import { rateOf } from '../../../../src/summarize/study/analysis/rate-of.js';
import type { StudyPatient } from '../../../../src/summarize/study/analysis/study-patient.js';
import { FEATURES } from '../../../../src/summarize/study/features.js';
import { dosed, patient } from './invented-cohort.js';

const KEY = 'icpDoseAbove22MmHgHours';

function wordsOf(patients: readonly StudyPatient[], keys: readonly string[] = [KEY]): Record<string, string> {
  const groups = outcomeGroups(patients, USUAL_CUTS.gose);
  const chosen = keys.map((key) => ({ key, step: 1 }));
  const analyses = featureAnalyses(groups, chosen, ['ageYears', 'gcsMotor']);
  const titles = { [KEY]: 'Dose of ICP above 22 mmHg' };
  return Object.fromEntries(
    guardWords(groups, analyses, titles).map(({ about, sentence }) => [about, sentence]),
  );
}

/** Ten a group, all with 72 h and all fields; half of each group has the higher dose. */
const even = Array.from({ length: 30 }, (_, i) =>
  patient({
    id: `p${i}`,
    ageYears: 20 + ((i * 7) % 31),
    gcsMotor: 1 + ((i * 5) % 6),
    features: {
      [KEY]: (i * 11) % 30,
      icpDosePerHourAbove22MmHg: ((i * 13) % 30) / 72,
      icpMonitoredHours: 72,
    },
    outcome: { scale: 'gose', value: i % 2 === 0 ? 2 : 7 },
  }),
);

describe('what has to be known before figures are read', () => {
  it('is that therapy intensity is treatment, where it is asked about', () => {
    const therapy = (key: string) =>
      wordsOf(even, [key]).treatment.includes('it is treatment, and tells who was thought to need it');
    expect([therapy('therapyIntensity'), therapy(KEY)]).toEqual([true, false]);
  });
  it('is always that association is not effect and that treatment reacts', () => {
    const words = wordsOf(dosed([], []));
    expect(Object.keys(words)).toEqual(['association', 'treatment', 'oneGroup', 'totals']);
    expect(words.oneGroup).toBe('No patient has a known outcome: nothing can be compared.');
  });

  it('leaves out what the data give no cause for', () => {
    expect(Object.keys(wordsOf(even, [KEY, 'icpDosePerHourAbove22MmHg']))).toEqual([
      'association',
      'treatment',
      'fewEvents',
      'questions',
    ]);
  });

  it('says lengths of stay, deaths, who is missing, and totals that stand alone', () => {
    const patients = even.map((one, i): StudyPatient => {
      if (i % 10 === 0) {
        return {
          ...one,
          windowEndsBy: i === 0 ? 'withdrawn' : 'death',
          features: { ...one.features, icpMonitoredHours: 12.25 },
        };
      }
      return i % 10 === 3 ? { ...one, ageYears: null } : one;
    });
    patients.push(patient({ id: 'lost', hasDied: true }));
    const words = wordsOf(patients);
    expect(words.length).toBe(
      "ICP is known for 12.3 h to 72.0 h of a patient's time: a median of 72.0 h where the outcome is unfavourable and 72.0 h where the outcome is favourable. Hours, doses, counts and extremes grow with the time that is known, so read them beside the figures per monitored hour or day.",
    );
    expect(words.deaths).toBe(
      'The time of 3 of 30 patients is cut short within the window: 2 by death and 1 by a withdrawal of treatment. Their ICP is known for a median of 12.3 h. Burden had less time to add up in them, so a total can look small where the outcome is worst.',
    );
    expect(words.withoutOutcome).toBe(
      '1 of 31 patients have no known outcome and are in neither group; 1 of them died. Those who were not followed may differ from those who were. To leave out who died makes outcomes look better: a death by the time that is asked about is the worst outcome, and counts once the table has it as one.',
    );
    expect(wordsOf([...even, patient({ id: 'lost' })]).withoutOutcome).toBe(
      '1 of 31 patients have no known outcome and are in neither group. Those who were not followed may differ from those who were.',
    );
    expect(words.totals).toBe(
      'Without the figure per monitored hour or day beside it: Dose of ICP above 22 mmHg.',
    );
    expect(words.incomplete).toContain('up to 3 with a value and an outcome are not among them');
  });

  it('counts events against predictors, and questions', () => {
    expect(wordsOf(even).fewEvents).toBe(
      'Few events: the smaller group has 15 patients, and a model carries one predictor for each 10 of them. 1 model here has fewer, 5.0 at the least: such odds ratios tend to be too far from 1, and their intervals too short.',
    );
    const gap = even.map((one, i) =>
      i < 8 ? { ...one, features: { ...one.features, [KEY]: { reason: 'x' } } } : one,
    );
    // 11 events of the smaller group with one feature, 15 with the other, three predictors each.
    expect(wordsOf(gap, [KEY, 'icpDosePerHourAbove22MmHg']).fewEvents).toContain(
      '2 models here have fewer, 3.7 at the least:',
    );
    const blank = even.map((one, i) => (i > 26 ? { ...one, gcsMotor: null } : one));
    const ofOne = blank.map((one, i) =>
      i > 27 ? { ...one, features: { ...one.features, [KEY]: { reason: 'x' } } } : one,
    );
    expect(wordsOf(ofOne, [KEY, 'icpDosePerHourAbove22MmHg']).incomplete).toContain('up to 3 with a value');
    expect(wordsOf(even, [KEY, 'icpDosePerHourAbove22MmHg']).questions).toContain(
      '2 features are asked the same question. If none went with outcome, 0.1 of them',
    );
  });

  it('names features that part the outcomes', () => {
    const parted = even.map((one, i) => ({ ...one, features: { [KEY]: i % 2 === 0 ? 100 + i : i } }));
    expect(wordsOf(parted).separation).toContain('in models of: Dose of ICP above 22 mmHg.');
  });
});

describe('the rate of a total', () => {
  it('is a feature that there is', () => {
    const keys = new Set(FEATURES.map(({ key }) => key));
    const totals = [...keys].filter((key) => rateOf(key) !== null);
    // Hours and doses of nine levels, and episodes.
    expect(totals.length).toBe(19);
    expect(totals.filter((key) => !keys.has(rateOf(key)!))).toEqual([]);
    expect(rateOf('icpMeanMmHg')).toBe(null);
  });
});
