import { Buffer } from 'node:buffer';
import { gzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import type { Ingested } from '../../src/ingest/ingest.js';
import { asideOf, type Files, ingestFiles, rowsSetAside, valuesOf, wall } from './support.js';

const HEADER = 'Bed,Time,ICP (mmHg),MAP (mmHg)\n';
const row = (bed: string, second: number, icp: string, map = '80'): string =>
  `${bed},${wall(Date.UTC(2031, 1, 11, 2, 0, second))},${icp},${map}\n`;

const read = (files: Files): Promise<Ingested[]> => ingestFiles(files, { patient: { column: 'Bed' } });
const problems = (outcomes: Ingested[]) => outcomes.map(({ id, problem }) => [id, problem]);

/** Rows read and set aside by patient. */
const accounts = (outcomes: Ingested[]) =>
  outcomes.map((outcome) => [outcome.id, outcome.rowsRead, rowsSetAside(outcome)]);

describe('a file with a patient column', () => {
  test('is sorted by patient, whose rows may stand in turn', async () => {
    const outcomes = await read({
      'a.csv': HEADER + row('007', 1, '10') + row('7', 1, '20') + row('007', 2, '11') + row('7', 2, '21'),
    });
    expect(problems(outcomes)).toEqual([
      ['007', null],
      ['7', null],
    ]);
    expect(outcomes.map((outcome) => valuesOf(outcome, 'icp'))).toEqual([
      [10, 11],
      [20, 21],
    ]);
  });

  test('keeps ids as text, trimmed, whatever they hold', async () => {
    const ids = [
      '__proto__',
      'constructor',
      '../../x',
      'P 1',
      '<b>',
      'B\u00f8 \u{1f6cf}',
      '0',
      "O'N",
      'null',
    ];
    const outcomes = await read({ 'a.csv': HEADER + ids.map((id, i) => row(` ${id} `, i, '12')).join('') });
    expect(problems(outcomes)).toEqual(ids.map((id) => [id, null]));
  });

  test('sets a bad row of a patient aside and leaves the others whole', async () => {
    const outcomes = await read({
      'a.csv': HEADER + row('1', 1, '10') + row('2', 1, 'alarm') + row('1', 2, '11') + row('2', 2, '20'),
    });
    expect(problems(outcomes)).toEqual([
      ['1', null],
      ['2', null],
    ]);
    expect(outcomes.map(asideOf)).toEqual([
      [],
      ['a.csv:3 unreadable: column "ICP (mmHg)": "alarm" is not a number'],
    ]);
  });

  test('fails one patient whose rows are mostly bad and leaves the others whole', async () => {
    const outcomes = await read({
      'a.csv':
        HEADER +
        row('1', 1, '10') +
        row('2', 1, 'alarm') +
        row('1', 2, '11') +
        row('2', 2, '20') +
        row('2', 3, 'alarm'),
    });
    expect(problems(outcomes)).toEqual([
      ['1', null],
      [
        '2',
        'a.csv, line 3: 2 of 3 rows cannot be used, this one first: column "ICP (mmHg)": "alarm" is not a number. Correct the cell; where it means "no value", list it in the pipeline file as columns: {missing: [...]}.',
      ],
    ]);
    expect(accounts(outcomes)).toEqual([
      ['1', 2, 0],
      ['2', 3, 3],
    ]);
  });

  test('puts the rows of a patient in order and leaves the others as they are', async () => {
    const outcomes = await read({
      'a.csv': HEADER + row('1', 5, '10') + row('2', 1, '20') + row('1', 4, '11') + row('2', 2, '21'),
    });
    expect(problems(outcomes)).toEqual([
      ['1', null],
      ['2', null],
    ]);
    expect(outcomes.map((outcome) => valuesOf(outcome, 'icp'))).toEqual([
      [11, 10],
      [20, 21],
    ]);
  });

  test('fails one patient for a time that puts the others in doubt and leaves the other patients whole', async () => {
    const bad = row('2', 1, '20').replace('2031-02-11', '11.02.31');
    const outcomes = await read({ 'a.csv': HEADER + row('1', 1, '10') + bad + row('1', 2, '11') });
    expect(problems(outcomes)).toEqual([
      ['1', null],
      [
        '2',
        'a.csv, line 3, column "Time": the year in "11.02.31 02:00:01" has two digits, so it may be a day or a month as well. Export the dates with four-digit years.',
      ],
    ]);
  });

  test('gives a row with other cells than the header to nobody new', async () => {
    const outcomes = await read({
      'a.csv': `${HEADER + row('1', 1, '10')}2031-02-11 02:00:02,11,80\n${row('1', 3, '12')}`,
    });
    expect(outcomes.filter(({ id }) => id === '2031-02-11 02:00:02')).toEqual([]);
    expect(outcomes.find(({ id }) => id === '1')?.problem).toBeNull();
  });

  test('fails only the patient whose elapsed times have no start', async () => {
    const content = 'Bed,Elapsed (s),ICP (mmHg)\n7,0,12\n8,0,13\n7,1,12\n8,1,13\n';
    const columns = { time: { start: { '7': '2031-02-11 19:00' } } };
    const outcomes = await ingestFiles({ 'a.csv': content }, { patient: { column: 'Bed' }, columns });
    expect(outcomes.map(({ id, problem }) => [id, problem?.split('. ')[0] ?? null])).toEqual([
      ['7', null],
      ['8', expect.stringContaining('the times count from a start that nothing names for patient "8"')],
    ]);
  });

  test('names rows without a patient, with the line of the first', async () => {
    const outcomes = await read({
      'a.csv': HEADER + row('1', 1, '10') + row('', 2, '11') + row('  ', 3, '12') + row('1', 4, '13'),
    });
    expect(problems(outcomes)).toEqual([
      ['1', null],
      ['(no patient)', 'a.csv, line 3: rows name no patient. Fill the patient column.'],
    ]);
    expect(accounts(outcomes)).toEqual([
      ['1', 2, 0],
      ['(no patient)', 2, 2],
    ]);
    expect(outcomes[1].setAside[0].line).toBe(3);
  });

  test('fails all of its patients at a second header, since the columns behind may be others', async () => {
    const swapped = 'Bed,Time,MAP (mmHg),ICP (mmHg)\n';
    const outcomes = await read({
      'a.csv': HEADER + row('1', 1, '10') + row('2', 1, '20') + swapped + row('1', 2, '80', '10'),
      'b.csv': HEADER + row('3', 1, '30'),
    });
    const again =
      'a.csv, line 4: another header stands here. Two exports with different columns seem to be joined: split the file here.';
    expect(problems(outcomes)).toEqual([
      ['3', null],
      ['1', again],
      ['2', again],
      ['a.csv', again],
    ]);
  });

  test('that is cut off fails the patients in it, though another file of theirs is whole', async () => {
    const rows = Array.from({ length: 60 }, (_, i) => row(i < 30 ? '1' : '2', i, '12')).join('');
    const many = Array.from({ length: 40_000 }, (_, i) => row('3', 0, String(i))).join('');
    const packed = gzipSync(HEADER + rows + many);
    const damaged = 'b.csv.gz: the gzip data are damaged or cut off. Export the file again or copy it again.';
    const outcomes = await read({
      'a.csv': HEADER + row('1', 1, '10') + row('4', 1, '40'),
      'b.csv.gz': Buffer.from(packed.subarray(0, packed.length - 20)),
    });
    expect(problems(outcomes)).toEqual([
      ['1', damaged],
      ['4', null],
      ['2', damaged],
      ['3', damaged],
      ['b.csv.gz', damaged],
    ]);
    expect(accounts(outcomes).slice(0, 3)).toEqual([
      ['1', 31, 31],
      ['4', 1, 0],
      ['2', 30, 30],
    ]);
  });

  test('is named in the place of its patients where its header cannot be used', async () => {
    const outcomes = await read({
      'a.csv': 'Time,ICP (mmHg)\n2031-02-11 02:00:00,12\n',
      'b.csv': HEADER + row('1', 1, '10'),
    });
    expect(problems(outcomes)).toEqual([
      ['1', null],
      [
        'a.csv',
        'a.csv, line 1: there is no column "Bed", which the pipeline file names as the patient. The columns are "Time", "ICP (mmHg)".',
      ],
    ]);
  });

  test('is read in bounded time and memory where each row is another patient', async () => {
    const rows = Array.from({ length: 20_000 }, (_, i) => row(String(i), 1, '12')).join('');
    const start = performance.now();
    expect(await read({ 'a.csv': HEADER + rows })).toHaveLength(20_000);
    expect(performance.now() - start).toBeLessThan(20_000);
  });
});
