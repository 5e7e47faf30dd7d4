import { describe, expect, test } from 'vitest';
import { recogniseColumns } from '../../src/ingest/recognise-columns.js';
import { decimalsInMmHg, mmHgPer, pressureUnit } from '../../src/ingest/units.js';
import { ingestOne, problemOf, settingsWith, valuesOf } from './support.js';

const recognise = (...headers: string[]) => recogniseColumns(headers, settingsWith());

describe('a factor to mmHg', () => {
  // NIST SP 811 (2008), appendix B.8: 1 mmHg = 133.3224 Pa, 1 cmH2O = 98.0665 Pa.
  test('is the one of NIST SP 811', () => {
    expect(mmHgPer('mm[Hg]')).toBe(1);
    expect(mmHgPer('kPa') * 133.3224).toBeCloseTo(1000, 9);
    expect(mmHgPer('cm[H2O]') * 133.3224).toBeCloseTo(98.0665, 9);
  });

  test('turns 2.67 kPa and 27.2 cmH2O into about 20 mmHg', async () => {
    const row = (header: string, value: string) =>
      ingestOne(`Time,${header}\n2031-02-11 02:10:00,${value}\n`);
    // NIST SP 811: 2670 / 133.3224 and 27.2 x 98.0665 / 133.3224.
    expect(valuesOf(await row('ICP (kPa)', '2.67'), 'icp')[0]).toBeCloseTo(20.026642, 6);
    expect(valuesOf(await row('ICP (cmH2O)', '27.2'), 'icp')[0]).toBeCloseTo(20.007207, 6);
    expect(valuesOf(await row('ICP (mmHg)', '20.1'), 'icp')).toEqual([20.1]);
  });
});

describe('a unit', () => {
  test.each([
    ['mmHg', 'mm[Hg]'],
    ['MMHG', 'mm[Hg]'],
    ['mm Hg', 'mm[Hg]'],
    ['mm_Hg', 'mm[Hg]'],
    ['mm[Hg]', 'mm[Hg]'],
    ['cmH2O', 'cm[H2O]'],
    ['cm H2O', 'cm[H2O]'],
    ['cmH\u2082O', 'cm[H2O]'],
    ['cm[H2O]', 'cm[H2O]'],
    ['kPa', 'kPa'],
    ['KPA', 'kPa'],
  ])('%j is %s', (text, unit) => {
    expect(pressureUnit(text)).toBe(unit);
  });

  test.each([
    ...['', 'mm', 'Hg', 'Pa', 'hPa', 'mbar', 'mmH2O', 'Torr', 'psi', 'cmHg', 'mmHg*', 'mV'],
    ...['constructor', '__proto__', 'toString', 'hasOwnProperty'],
  ])('%j is not known', (text) => {
    expect(pressureUnit(text)).toBeNull();
  });

  test('that a header lacks is asked for', async () => {
    expect(await problemOf(() => recognise('Time', 'ICP'))).toBe(
      'column "ICP": its unit is not given. Write it into the header, as in "ICP (mmHg)", or into the pipeline file under columns, as in icp: {unit: mmHg}.',
    );
  });

  test('that a header lacks is asked for where brackets hold a part of the name', async () => {
    expect(await problemOf(() => recognise('Time', 'ICP (mean)'))).toBe(
      'column "ICP (mean)": its unit is not given. Write it into the header, as in "ICP (mmHg)", or into the pipeline file under columns, as in icp: {unit: mmHg}.',
    );
  });

  test.each(['Torr', 'mmH2O', 'hPa', 'constructor', 'a.u.'])('%j in a header is refused', async (unit) => {
    expect(await problemOf(() => recognise('Time', `ICP (${unit})`))).toBe(
      `column "ICP (${unit})": the unit "${unit}" is not known. Use mmHg, cmH2O or kPa, or declare the unit in the pipeline file under columns.`,
    );
  });

  test('that no column needs may be unknown', () => {
    expect(recognise('Time', 'ICP (mmHg)', 'CVP (Torr)').channels).toHaveLength(1);
  });
});

describe('the decimals that a report may show in mmHg', () => {
  test.each([
    ['mm[Hg]', 0, 0],
    ['mm[Hg]', 1, 1],
    ['cm[H2O]', 1, 1],
    ['kPa', 0, 0],
    ['kPa', 1, 0],
    ['kPa', 2, 1],
  ] as const)('are, for %s with %i decimals, %i', (unit, written, shown) => {
    expect(decimalsInMmHg(written, unit)).toBe(shown);
  });

  test('follow the finest cell of the column and stop at two', async () => {
    const decimals = async (header: string, ...cells: string[]) => {
      const rows = cells.map((cell, i) => `2031-02-11 02:10:0${i},${cell}\n`).join('');
      return (await ingestOne(`Time,${header}\n${rows}`)).recording?.channels.icp?.decimals;
    };
    expect(await decimals('ICP (mmHg)', '12', '13')).toBe(0);
    expect(await decimals('ICP (mmHg)', '12', '13.5', '14')).toBe(1);
    expect(await decimals('ICP (mmHg)', '12.3456')).toBe(2);
    expect(await decimals('ICP (mmHg)', '1.2e1')).toBe(0);
    expect(await decimals('ICP (kPa)', '1.60', '1.6')).toBe(1);
  });
});
