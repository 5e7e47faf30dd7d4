import { describe, expect, test } from 'vitest';
import { recogniseColumns } from '../../src/ingest/columns/recognise-columns.js';
import { conversion, mmHgPer, unitNamed } from '../../src/ingest/columns/units.js';
import { ingestOne, problemOf, settingsWith, valuesOf } from './support.js';

/** The unit that a pressure may have; null for any other. */
const pressureUnit = (text: string) => {
  const unit = unitNamed(text);
  return unit && conversion(unit, 'mm[Hg]') ? unit : null;
};

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
    ['/min', '/min'],
    ['1/min', '/min'],
    ['bpm', '/min'],
    ['Breaths/min', '/min'],
    ['min^-1', '/min'],
    ['%', '%'],
    ['\u00b0C', 'Cel'],
    ['deg C', 'Cel'],
    ['\u00b0F', '[degF]'],
  ])('%j is %s, and no pressure', (text, unit) => {
    expect([unitNamed(text), pressureUnit(text)]).toEqual([unit, null]);
  });

  test.each([
    ...['', 'mm', 'Hg', 'Pa', 'hPa', 'mbar', 'mmH2O', 'Torr', 'psi', 'cmHg', 'mmHg*', 'mV'],
    ...['constructor', '__proto__', 'toString', 'hasOwnProperty'],
  ])('%j is not known', (text) => {
    expect([pressureUnit(text), unitNamed(text)]).toEqual([null, null]);
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

  test.each([
    ['ICP', 'ICP'],
    ['EVD', 'ICP through the drain'],
    ['MAP', 'MAP'],
  ])('is asked for where %j lacks it', async (header, name) => {
    const kind = { ICP: 'icp', EVD: 'icpDrain', MAP: 'map' }[header];
    expect(await problemOf(() => recognise('Time', header))).toBe(
      `column "${header}": its unit is not given. Write it into the header, as in "${name} (mmHg)", or into the pipeline file under columns, as in ${kind}: {unit: mmHg}.`,
    );
  });

  test('that SBP and DBP lack leaves them alone', () => {
    expect(recognise('Time', 'ICP (mmHg)', 'SBP', 'DBP')).toMatchObject({
      channels: [{ kind: 'icp' }],
      leftAlone: [
        { header: 'SBP', why: 'systolic ABP, but its unit is not given' },
        { header: 'DBP', why: 'diastolic ABP, but its unit is not given' },
      ],
    });
  });

  test('that stands in a row under the header is used', () => {
    const units = ['', 'kPa', 'mmHg', ''];
    const { channels } = recogniseColumns(['Time', 'ICP', 'MAP', 'HR'], settingsWith(), units);
    expect(channels).toMatchObject([
      { kind: 'icp', unit: 'kPa', why: 'by its name, unit from the row of units' },
      { kind: 'map', unit: 'mm[Hg]', why: 'by its name, unit from the row of units' },
      { kind: 'hr', unit: '/min', why: 'by its name, its usual unit' },
    ]);
  });

  test('that header and row of units give two of is refused', async () => {
    const units = ['', 'kPa'];
    const read = () => recogniseColumns(['Time', 'ICP (mmHg)'], settingsWith(), units);
    expect(await problemOf(read)).toBe(
      'column "ICP (mmHg)": its name says mmHg, and the row of units kPa. Declare the unit in the pipeline file under columns.',
    );
  });

  test('of another quantity is refused', async () => {
    expect(await problemOf(() => recognise('Time', 'ICP (%)'))).toBe(
      'column "ICP (%)": "%" is no unit of ICP. Use mmHg, cmH2O or kPa, or declare the unit in the pipeline file under columns.',
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
    ['mm[Hg]', 0],
    ['cm[H2O]', 0],
    ['kPa', 1],
  ] as const)('are, for %s, fewer by %i', (unit, lost) => {
    expect(conversion(unit, 'mm[Hg]')?.decimalsLost).toBe(lost);
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
    expect(await decimals('ICP (kPa)', '1.6')).toBe(0);
    expect(await decimals('ICP (kPa)', '2')).toBe(0);
    expect(await decimals('ICP (cmH2O)', '12.5')).toBe(1);
  });
});

describe('a conversion', () => {
  test('keeps degrees Celsius and turns degrees Fahrenheit into them', () => {
    expect(conversion('Cel', 'Cel')).toEqual({ factor: 1, offset: 0, decimalsLost: 0 });
    const { factor, offset } = conversion('[degF]', 'Cel')!;
    // By definition 32 degF = 0 degC, 212 degF = 100 degC, and both scales meet at -40.
    for (const [f, c] of [
      [32, 0],
      [212, 100],
      [-40, -40],
    ]) {
      expect(f * factor + offset).toBeCloseTo(c, 9);
    }
  });

  test.each([
    ['mm[Hg]', 'Cel'],
    ['Cel', 'mm[Hg]'],
    ['%', 'mm[Hg]'],
    ['/min', '%'],
    ['[degF]', '/min'],
  ] as const)('leads from %s to %s nowhere', (from, to) => {
    expect(conversion(from, to)).toBeNull();
  });
});
