import { describe, expect, test } from 'vitest';
import { recogniseColumns } from '../../src/ingest/columns/recognise-columns.js';
import type { IngestSettings } from '../../src/ingest/settings.js';
import { problemOf, settingsWith } from './support.js';

const recognise = (columns: IngestSettings['columns'], ...headers: string[]) =>
  recogniseColumns(headers, settingsWith({ columns }));

describe('a column that the pipeline file names', () => {
  test('wins over one that the header would have given', () => {
    const columns = { icp: { header: 'ICP mean (mmHg)' } };
    expect(recognise(columns, 'Time', 'ICP (mmHg)', 'ICP mean (mmHg)')).toMatchObject({
      channels: [{ index: 2, kind: 'icp', header: 'ICP mean (mmHg)', unit: 'mm[Hg]' }],
      leftAlone: [{ header: 'ICP (mmHg)' }],
    });
  });

  test('may have a name that nobody would recognise', () => {
    const columns = {
      time: 'When',
      icp: { header: 'P1', unit: 'cmH2O' },
      map: { header: 'P2', unit: 'kPa' },
    };
    expect(recognise(columns, 'P2', 'P1', 'When')).toMatchObject({
      time: { index: 2, date: null },
      channels: [
        { index: 1, kind: 'icp', unit: 'cm[H2O]' },
        { index: 0, kind: 'map', unit: 'kPa' },
      ],
    });
  });

  test('keeps the unit of its header where only the header is named', () => {
    expect(recognise({ icp: { header: 'P1 [kPa]' } }, 'Time', 'P1 [kPa]').channels[0].unit).toBe('kPa');
  });

  test('takes the declared unit before the written one, and says so', () => {
    const { channels, warnings } = recognise({ icp: { unit: 'kPa' } }, 'Time', 'ICP (mmHg)');
    expect(channels).toMatchObject([{ unit: 'kPa', why: 'by its name, unit from the pipeline file' }]);
    expect(warnings).toEqual([
      '"ICP (mmHg)" is read in kPa, as the pipeline file says, though the export says mm[Hg].',
    ]);
    expect(recognise({ icp: { unit: 'mmHg' } }, 'Time', 'ICP (mmHg)').warnings).toEqual([]);
  });

  test('may be a cuff, which is warned of', () => {
    const { channels, warnings } = recognise(
      { map: { header: 'NIBP mean (mmHg)' } },
      'Time',
      'NIBP mean (mmHg)',
    );
    expect(channels).toMatchObject([{ kind: 'map', why: 'named in the pipeline file, unit from its name' }]);
    expect(warnings).toEqual([
      '"NIBP mean (mmHg)" reads like a cuff, but is used as MAP, since the pipeline file says so.',
    ]);
  });

  test('may be said to be a drain', () => {
    const columns = { icp: { header: 'P1', unit: 'mmHg', source: 'drain' } } as const;
    expect(recognise(columns, 'Time', 'P1').channels).toMatchObject([{ kind: 'icp', source: 'drain' }]);
  });

  test('may be the date and the time of day apart', () => {
    const columns = { time: { header: 'Klokke', date: 'Dag' } };
    expect(recognise(columns, 'ICP (mmHg)', 'Dag', 'Klokke').time).toMatchObject({ index: 2, date: 1 });
  });

  test('may be the columns of a row a value', () => {
    const columns = { parameter: 'Messung', value: 'Wert', unit: 'Einheit' };
    expect(recognise(columns, 'Zeit', 'Messung', 'Wert', 'Einheit').long).toEqual({
      parameter: 1,
      value: 2,
      unit: 3,
      qualifier: null,
    });
  });

  test('is asked for its unit where it has none, whatever the channel', async () => {
    expect(await problemOf(() => recognise({ sbp: { header: 'P3' } }, 'Time', 'P3'))).toBe(
      'column "P3": its unit is not given. Write it into the header, as in "systolic ABP (mmHg)", or into the pipeline file under columns, as in sbp: {unit: mmHg}.',
    );
  });

  test('is found whatever blanks stand around its name, and only in its own letters', async () => {
    expect(recognise({ icp: { header: ' P1 ', unit: 'mmHg' } }, 'Time', 'P1').channels[0].index).toBe(1);
    expect(await problemOf(() => recognise({ icp: { header: 'p1' } }, 'Time', 'P1'))).toBe(
      'there is no column "p1", which the pipeline file names as ICP. The columns are "Time", "P1".',
    );
  });

  test.each([
    [{ time: 'When' }, 'there is no column "When", which the pipeline file names as the time.'],
    [{ map: { header: 'ART' } }, 'there is no column "ART", which the pipeline file names as MAP.'],
    [{ sbp: { header: '' } }, 'there is no column "", which the pipeline file names as SBP.'],
  ])('is missed where the file lacks it: %j', async (columns, expected) => {
    expect(await problemOf(() => recognise(columns, 'Time', 'ICP (mmHg)'))).toBe(
      `${expected} The columns are "Time", "ICP (mmHg)".`,
    );
  });

  test('is refused where two columns carry the name', async () => {
    expect(await problemOf(() => recognise({ icp: { header: 'P1' } }, 'Time', 'P1', 'P1'))).toBe(
      'two columns are named "P1". They cannot be told apart: rename or remove one in the file.',
    );
  });

  test('is refused where it would be two things at once', async () => {
    const both = { icp: { header: 'P1', unit: 'mmHg' }, map: { header: 'P1', unit: 'mmHg' } };
    expect(await problemOf(() => recognise(both, 'Time', 'P1'))).toBe(
      'the column "P1" would be both ICP and MAP. Name another one in the pipeline file.',
    );
    expect(await problemOf(() => recognise({ time: 'ICP (mmHg)' }, 'Time', 'ICP (mmHg)'))).toBe(
      'the column "ICP (mmHg)" would be both the time and ICP. Name another one in the pipeline file.',
    );
  });

  test('is refused with a unit that is not known', async () => {
    expect(await problemOf(() => recognise({ icp: { unit: 'Torr' } }, 'Time', 'ICP (mmHg)'))).toBe(
      'column "ICP (mmHg)": the unit "Torr" is not known. Use mmHg, cmH2O or kPa, or declare the unit in the pipeline file under columns.',
    );
  });
});

describe('a patient column', () => {
  const withPatient = (column: string, ...headers: string[]) =>
    recogniseColumns(headers, settingsWith({ patient: { column } }));

  test('is found by its name alone', () => {
    expect(withPatient('Bed', 'Time', 'ICP (mmHg)', 'Bed').patient).toBe(2);
  });

  test('is missed where the file lacks it', async () => {
    expect(await problemOf(() => withPatient('Bed', 'Time', 'ICP (mmHg)'))).toBe(
      'there is no column "Bed", which the pipeline file names as the patient. The columns are "Time", "ICP (mmHg)".',
    );
  });

  test('is refused where it is the time, which would make each row a patient', async () => {
    expect(await problemOf(() => withPatient('Time', 'Time', 'ICP (mmHg)'))).toBe(
      'the column "Time" would be both the time and the patient. Name another one in the pipeline file.',
    );
  });
});
