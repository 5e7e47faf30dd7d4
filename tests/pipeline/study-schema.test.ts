import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { stringify } from 'yaml';
import { pipelineOf } from '../../src/pipeline/load-pipeline.js';
import type { Settings } from '../../src/pipeline/settings.js';
import { studySchema } from '../../src/pipeline/study-schema.js';
import { folderWith, ROOT } from '../support/cistern.js';
import { commandLine } from '../support/command-line.js';

const good = 'exports: exports\ncohort: cohort.csv\nreport: study\n';

const settingsOf = (more: string, set: readonly string[] = []): Settings =>
  pipelineOf(`${good}${more}`, 'unit.yaml', { set });

function refusal(text: string, set: readonly string[] = []): string {
  try {
    pipelineOf(text, 'unit.yaml', { set });
  } catch (error) {
    return `${(error as Error).name}: ${(error as Error).message}`;
  }
  return 'it was not refused';
}

describe('a study in a pipeline file', () => {
  it('has defaults for all of it', () => {
    const { study, period, title } = settingsOf('');
    expect([period, title]).toEqual(['all', 'Outcome study']);
    expect(study).toEqual({
      outcome: { scale: null, favourableFrom: null, months: null, withinMonths: 1 },
      primaryHours: 72,
      leastHours: 12,
      levels: { icpAboveMmHg: [15, 18, 20, 22, 25, 30], cppBelowMmHg: [50, 60, 70] },
      hasOptimal: true,
      ageFrom: 'over40',
      chosen: [
        { key: 'icpMeanMmHg', step: 5 },
        { key: 'icpHoursAbove22', step: 5 },
        { key: 'icpShareAbove22', step: 0.1 },
        { key: 'icpDoseAbove22MmHgHours', step: 10 },
        { key: 'icpDosePerHourAbove22MmHg', step: 0.5 },
        { key: 'cppDoseBelow60MmHgHours', step: 10 },
        { key: 'cppDosePerHourBelow60MmHg', step: 0.5 },
        { key: 'prxMean', step: 0.1 },
      ],
      areChosenUsual: true,
      adjusters: null,
      quantiles: 4,
      resamples: 1000,
      hasPseudonyms: true,
    });
  });

  it('follows the thresholds of children, and those of the unit', () => {
    const { study } = settingsOf('preset: paediatric\n');
    expect(study?.levels).toEqual({ icpAboveMmHg: [15, 18, 20, 22, 25, 30], cppBelowMmHg: [40, 50, 60, 70] });
    expect(study?.chosen.map(({ key }) => key)).toEqual([
      'icpMeanMmHg',
      'icpHoursAbove20',
      'icpShareAbove20',
      'icpDoseAbove20MmHgHours',
      'icpDosePerHourAbove20MmHg',
      'cppDoseBelow40MmHgHours',
      'cppDosePerHourBelow40MmHg',
      'prxMean',
    ]);
    const own = settingsOf(
      'segment: {icp: {thresholdMmHg: 22.5}}\nstudy: {levels: {icpAboveMmHg: [20], cppBelowMmHg: []}}\n',
    ).study;
    expect(own?.levels).toEqual({ icpAboveMmHg: [20, 22.5], cppBelowMmHg: [60] });
    expect(own?.chosen[1]).toEqual({ key: 'icpHoursAbove22.5', step: 5 });
  });

  it('takes what the file says', () => {
    const { study } = settingsOf(
      'study: {outcome: {scale: gos, favourableFrom: 3, months: 6}, primaryHours: 48, leastHours: 0, features: {icpHoursAbove17: 2}, levels: {icpAboveMmHg: [17]}, adjusters: [], ageFrom: from40, quantiles: 3, resamples: 500, optimalCpp: false, patients: numbers}\n',
    );
    expect(study).toMatchObject({
      outcome: { scale: 'gos', favourableFrom: 3, months: 6, withinMonths: 1 },
      primaryHours: 48,
      leastHours: 0,
      levels: { icpAboveMmHg: [17, 22], cppBelowMmHg: [50, 60, 70] },
      chosen: [{ key: 'icpHoursAbove17', step: 2 }],
      areChosenUsual: false,
      adjusters: [],
      ageFrom: 'from40',
      quantiles: 3,
      resamples: 500,
      hasOptimal: false,
      hasPseudonyms: false,
    });
  });

  it('takes single features and other keys from --set', () => {
    const { study } = settingsOf('study: {features: {icpMeanMmHg: 5}}\n', [
      'study.features.prxMean=0.2',
      'study.features.icpMeanMmHg=4',
      'study.outcome.months=12',
    ]);
    expect(study?.chosen).toEqual([
      { key: 'icpMeanMmHg', step: 4 },
      { key: 'prxMean', step: 0.2 },
    ]);
    expect(study?.outcome.months).toBe(12);
    // Without any in the file, the one that is set is all that is asked about.
    expect(settingsOf('', ['study.features.prxMean=0.2']).study?.chosen).toEqual([
      { key: 'prxMean', step: 0.2 },
    ]);
  });

  it.each([
    '',
    'preset: paediatric\n',
    'study: {outcome: {scale: gose, favourableFrom: 4, months: 6, withinMonths: 0.5}, adjusters: [gcsTotal], levels: {icpAboveMmHg: [10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 22]}, patients: numbers}\n',
    'study: {outcome: {scale: mortality, favourableFrom: 1}, features: {therapyIntensity: 4}, ageFrom: from40, optimalCpp: false}\n',
  ])('has effective values that are the same settings again: %s', (more) => {
    const { study, effective } = settingsOf(more);
    const rest = ['preset', 'segment'].map((key) => stringify({ [key]: effective[key] })).join('');
    const again = settingsOf(`${rest}${stringify({ study: effective.study })}`);
    // They name the features, whoever chose them.
    expect(again.study).toEqual({ ...study, areChosenUsual: false });
    expect(again.effective.study).toEqual(effective.study);
  });

  it.each([
    [
      'study: {features: {icpMeanMmHG: 5}}',
      'unit.yaml: study.features: "icpMeanMmHG" is none of the features. Did you mean "icpMeanMmHg"? README.md tells how features are named; tables/dictionary.csv of a study lists them all.',
    ],
    [
      'study: {features: {icpHoursAbove17: 5}}',
      'unit.yaml: study.features: "icpHoursAbove17" is none of the features. Add 17 to study.levels: {icpAboveMmHg: [...]}, which are 15, 18, 20, 22, 25, 30 now.',
    ],
    [
      'study: {features: {age: 10}}',
      'unit.yaml: study.features: "age" is none of the features. README.md tells how',
    ],
    [
      'study: {features: {icpDoseAbove22: 10}}',
      'unit.yaml: study.features: "icpDoseAbove22" is none of the features. Did you mean "icpDoseAbove22MmHgHours"? ',
    ],
    [
      'study: {features: {cppDoseBelow55MmHgHours: 10}, levels: {cppBelowMmHg: [50]}}',
      'is none of the features. Add 55 to study.levels: {cppBelowMmHg: [...]}, which are 50, 60 now.',
    ],
    [
      'study: {features: {cppLessOptimalMmHg: 5}, optimalCpp: false}',
      'unit.yaml: study.features: cppLessOptimalMmHg is asked about, and optimalCpp: false keeps it from being computed. Take one of the two out.',
    ],
    [
      'study: {features: {icpMeanMmHg: 0}}',
      'unit.yaml, line 4: study.features.icpMeanMmHg: expected a step above 0, not 0.',
    ],
    [
      'study: {features: {icpMeanMmHg: five}}',
      'unit.yaml, line 4: study.features.icpMeanMmHg: expected a step in the unit of the feature, not "five".',
    ],
    ['study: {features: {}}', 'unit.yaml, line 4: study.features: expected at least one feature, not {}.'],
    [
      'study: {features: [icpMeanMmHg]}',
      'unit.yaml, line 4: study.features: expected features with their steps, as {icpMeanMmHg: 5}, not ["icpMeanMmHg"].',
    ],
    [
      'study: {primaryHours: 10}',
      'unit.yaml: study: leastHours of 12 is more than the 10 h of the primary window. No patient could count: make leastHours smaller, or primaryHours larger.',
    ],
    [
      'study: {primaryHours: 0.5, leastHours: 0}',
      'unit.yaml: study: primaryHours of 0.5 is a window of less than an hour, and burden is counted in hours. Make it 1 or more; 72 is usual here.',
    ],
    [
      'study: {primaryHours: .inf}',
      'unit.yaml, line 4: study.primaryHours: expected a number of hours, not .inf. Mend the value.',
    ],
    [
      'study: {leastHours: .nan}',
      'unit.yaml, line 4: study.leastHours: expected a number of hours, not .nan. Mend the value.',
    ],
    [
      'study: {leastHours: 80}',
      'unit.yaml: study: leastHours of 80 is more than the 72 h of the primary window. ',
    ],
    [
      'study: {primaryHours: 0}',
      'unit.yaml, line 4: study.primaryHours: expected a number of hours above 0, not 0.',
    ],
    [
      'study: {primaryHours: 2000}',
      'unit.yaml, line 4: study.primaryHours: expected 1440 hours or less, not 2000.',
    ],
    ['study: {leastHours: -1}', 'unit.yaml, line 4: study.leastHours: expected 0 or more hours, not -1.'],
    [
      'study: {outcome: {scale: gosx}}',
      'unit.yaml, line 4: study.outcome.scale: "gosx" is no valid value. Did you mean "gos"? Valid here: gos, gose, mortality.',
    ],
    [
      'study: {outcome: {favourableFrom: 5}}',
      'unit.yaml, line 4: study.outcome: expected the scale that favourableFrom is a level of beside it, as {scale: gose, favourableFrom: 5}, not {"favourableFrom":5}.',
    ],
    [
      'study: {outcome: {scale: gos, favourableFrom: 6}}',
      'unit.yaml, line 4: study.outcome.favourableFrom: expected a level of the GOS from 2 to 5, not 6. Mend the value.',
    ],
    [
      'study: {outcome: {scale: gose, favourableFrom: 1}}',
      'unit.yaml, line 4: study.outcome.favourableFrom: expected a level of the GOSE from 2 to 8, not 1.',
    ],
    [
      'study: {outcome: {scale: gose, favourableFrom: 4.5}}',
      'unit.yaml, line 4: study.outcome.favourableFrom: expected a level of the scale, a whole number, not 4.5.',
    ],
    [
      'study: {outcome: {scale: mortality, favourableFrom: 5}}',
      'unit.yaml, line 4: study.outcome.favourableFrom: expected 1, which is alive: nothing else can be favourable in mortality, not 5.',
    ],
    [
      'study: {outcome: {withinMonths: 2}}',
      'unit.yaml, line 4: study.outcome: expected the months that withinMonths is about beside it, as {months: 6, withinMonths: 1}, not {"withinMonths":2}.',
    ],
    [
      'study: {outcome: {months: 0}}',
      'unit.yaml, line 4: study.outcome.months: expected a number of months above 0, not 0.',
    ],
    [
      'study: {adjusters: [gcsMotor, gcsTotal]}',
      'unit.yaml, line 4: study.adjusters: expected gcsTotal or gcsMotor, which is in it, not ["gcsMotor","gcsTotal"].',
    ],
    ['study: {adjusters: [ageYears, ageYears]}', 'unit.yaml, line 4: study.adjusters: expected each once, '],
    [
      'study: {adjusters: [age]}',
      'unit.yaml, line 4: study.adjusters.0: "age" is no valid value. Valid here: ageYears, gcsMotor, gcsTotal, pupilsReacting.',
    ],
    [
      'study: {levels: {icpAboveMmHg: [20, 15]}}',
      'unit.yaml, line 4: study.levels.icpAboveMmHg: expected rising pressures, each once, not [20,15].',
    ],
    [
      'study: {levels: {cppBelowMmHg: [-5]}}',
      'unit.yaml, line 4: study.levels.cppBelowMmHg.0: expected a pressure from 0 to 150 mmHg, not -5.',
    ],
    [
      'study: {levels: {icpAboveMmHg: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]}}',
      'unit.yaml: study.levels.icpAboveMmHg: 13 pressures with 22 mmHg, the threshold of episodes, which is always counted. Give 12 or fewer, that one among them.',
    ],
    ['study: {quantiles: 1}', 'unit.yaml, line 4: study.quantiles: expected 2 or more, not 1.'],
    ['study: {resamples: 50}', 'unit.yaml, line 4: study.resamples: expected 100 or more, not 50.'],
    ['study: {patients: names}', 'unit.yaml, line 4: study.patients: "names" is no valid value. '],
    ['study: {ageFrom: 40}', 'unit.yaml, line 4: study.ageFrom: '],
    [
      'study: 72',
      'unit.yaml, line 4: study: expected keys such as outcome and features, as {primaryHours: 72}, not 72.',
    ],
    [
      'study: {primaryHour: 72}',
      'unit.yaml, line 4: unknown key "study.primaryHour". Did you mean "primaryHours"? Valid here: ',
    ],
    [
      'period: lastNight',
      'unit.yaml: period: a study has windows of its own, which begin with monitoring. Take it out; study: {primaryHours: 72} says how long the first one is.',
    ],
  ])('%s is refused with a sentence', (more, says) => {
    expect(refusal(`${good}${more}\n`)).toMatch(/^Problem: /);
    expect(refusal(`${good}${more}\n`)).toContain(says);
  });

  it('is refused beside another report, and without a table of patients', () => {
    expect(refusal('exports: e\nreport: morning\nstudy: {primaryHours: 72}\n')).toBe(
      'Problem: unit.yaml: study: says what an outcome study asks, and the report is morning. Take it out, or say report: study.',
    );
    expect(refusal('exports: e\nreport: study\n')).toBe(
      'Problem: unit.yaml: an outcome study needs the table of patients with their outcomes. Give it as cohort in the pipeline file, or with --set cohort=cohort.csv.',
    );
    expect(refusal('exports: e\nreport: study\n', ['cohort=patients.csv'])).toBe('it was not refused');
    expect(refusal(`${good}audit: {per: week}\n`)).toContain(
      'audit: says how alarms are audited, and the report is study.',
    );
  });

  it('names --set where that is what does not fit', () => {
    expect(refusal(good, ['study.features.icpMeen=5'])).toBe(
      'Problem: --set study.features.icpMeen=5: study.features: "icpMeen" is none of the features. Did you mean "icpMeanMmHg"? README.md tells how features are named; tables/dictionary.csv of a study lists them all.',
    );
    expect(refusal(good, ['study.outcome.scale=gos', 'study.outcome.favourableFrom=7'])).toContain(
      '--set study.outcome.favourableFrom=7: study.outcome.favourableFrom: expected a level of the GOS from 2 to 5, not 7.',
    );
    expect(refusal(good, ['study.features.__proto__=1'])).toBe(
      'Problem: --set study.features.__proto__=1: "__proto__" is no key. Write --set key=value with a key of the pipeline file.',
    );
  });

  it('has an example, whose keys are all right and, but for the outcome and the features, the usual ones', () => {
    const text = readFileSync(join(ROOT, 'pipelines/outcome-study.yaml'), 'utf8');
    const usual = settingsOf('').study;
    expect(pipelineOf(text, 'outcome-study.yaml').study).toEqual(usual);
    const whole = text.replace(/^( *)# (\w+: )/gm, '$1$2');
    expect(whole.match(/^ {2}\w+:/gm)).toHaveLength(Object.keys(studySchema.shape).length);
    const { outcome, chosen, areChosenUsual, adjusters, ...rest } = pipelineOf(whole, 'x.yaml').study ?? {};
    expect({ ...usual, ...rest }).toEqual(usual);
    expect(outcome).toEqual({ scale: 'gose', favourableFrom: 5, months: 6, withinMonths: 1 });
    expect([chosen?.length, areChosenUsual, adjusters?.length]).toEqual([4, false, 3]);
  });

  it('is checked on the command line without reading anything', async () => {
    const folder = folderWith({
      'unit.yaml': `${good}study: {outcome: {months: 6}}\n`,
      'wrong.yaml': `${good}study: {leastHours: 100}\n`,
    });
    const right = await commandLine(['check', 'unit.yaml'], folder);
    expect([right.status, right.stderr]).toEqual([0, '']);
    const wrong = await commandLine(['check', 'wrong.yaml'], folder);
    expect([wrong.status, wrong.stdout]).toEqual([2, '']);
    expect(wrong.stderr).toContain('wrong.yaml: study: leastHours of 100 is more than the 72 h');
    const set = await commandLine(['check', 'unit.yaml', '--set', 'study.features.icpMeanMmHg=-1'], folder);
    expect(set.stderr).toContain(
      '--set study.features.icpMeanMmHg=-1: study.features.icpMeanMmHg: expected a step above 0',
    );
  });
});
