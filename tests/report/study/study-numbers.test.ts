import { describe, expect, it, test } from 'vitest';
import {
  areaText,
  boundsText,
  oddsText,
  pairsText,
  pText,
  spreadsText,
  stepText,
  valuesText,
  withUnit,
} from '../../../src/report/study/study-numbers.js';

describe('numbers of a study', () => {
  test.each([
    [null, '–'],
    [0, '<0.001'],
    [0.00099999, '<0.001'],
    [0.001, '0.001'],
    [0.0494, '0.049'],
    [0.0497, '0.0497'],
    [0.04999, '0.04999'],
    [0.04999999, '<0.05'],
    [0.05, '0.050'],
    [0.0504, '0.050'],
    [1, '1.000'],
  ])('write the p %s', (p, text) => expect(pText(p)).toBe(text));

  test.each([
    [null, '–'],
    [0.001, '<0.01'],
    [0.005, '0.01'],
    [1, '1.00'],
    [3.604, '3.60'],
    [99.994, '99.99'],
    [99.996, '100'],
    [692.4, '692'],
    [9999.4, '9999'],
    [1e12, '>9999'],
  ])('write the odds ratio %s', (odds, text) => expect(oddsText(odds)).toBe(text));

  test.each([
    [null, '–'],
    [0, '0.00'],
    [0.001, '<0.01'],
    [0.7305, '0.73'],
    [0.9951, '>0.99'],
    [1, '1.00'],
  ])('write the area %s', (area, text) => expect(areaText(area)).toBe(text));

  it('write W in halves', () => {
    expect([347, 347.5, 0, null].map(pairsText)).toEqual(['347', '347.5', '0', '–']);
  });

  it('write an interval, and none where there is none', () => {
    expect(boundsText({ lower: 1.441, upper: 10.72 }, oddsText)).toBe('1.44 to 10.72');
    expect(boundsText({ lower: 1.441, upper: null }, oddsText)).toBe('1.44 to –');
    expect(boundsText({ lower: null, upper: null }, oddsText)).toBe('');
  });

  test.each([
    [
      [13.87, 18.47],
      ['13.9', '18.5'],
    ],
    [
      [0, 0.001, 0.43],
      ['0.00', '<0.01', '0.43'],
    ],
    [
      [-0.003, 0.21],
      ['0.00', '0.21'],
    ],
    [
      [-0.31, 0.21],
      ['−0.31', '0.21'],
    ],
    [
      [3, 0, 12],
      ['3', '0', '12'],
    ],
    [
      [3.5, 0.2, 120.4],
      ['4', '<1', '120'],
    ],
    [
      [null, 2],
      ['–', '2'],
    ],
  ])('write %s of one feature with the same decimals', (values, texts) => {
    expect(values.map(valuesText(values))).toEqual(texts);
  });

  it('write median and quartiles, and a dash where nobody has a value', () => {
    const some = { known: 3, missing: 0, median: 14.04, lowerQuartile: 9.96, upperQuartile: 17.949 };
    const none = { known: 0, missing: 3, median: null, lowerQuartile: null, upperQuartile: null };
    expect(spreadsText([some, none])).toEqual([
      { median: '14.0', quartiles: '10.0 to 17.9' },
      { median: '–', quartiles: '' },
    ]);
  });

  it('say units as people do', () => {
    expect(withUnit({ title: 'Mean ICP', unit: 'mm[Hg]' })).toBe('Mean ICP, mmHg');
    expect(withUnit({ title: 'Mean PRx', unit: '1' })).toBe('Mean PRx');
    expect(stepText({ step: 10, unit: 'mm[Hg].h' })).toBe('per 10 mmHg·h');
    expect(stepText({ step: 0.1, unit: '1' })).toBe('per 0.1');
    expect(stepText({ step: 1, unit: '{episodes}' })).toBe('per 1 episode');
    expect(stepText({ step: 5, unit: 'h' })).toBe('per 5 h');
  });
});
