import { describe, expect, test } from 'vitest';
import { ICP_HEADER, ingestFiles, ingestOne, START, wall } from './support.js';

/** A row a second from `from` to `to`, both included. */
const seconds = (from: number, to: number, cell: string): string =>
  Array.from({ length: to - from + 1 }, (_, i) => `${wall(START + (from + i) * 1000)},${cell}\n`).join('');

/** Blank stretches of ICP in seconds after the start. */
const blanksOf = async (...parts: string[]) =>
  (await ingestOne(ICP_HEADER + parts.join(''))).recording?.channels.icp?.blanks.map(({ start, end }) => [
    (start - START) / 1000,
    (end - START) / 1000,
  ]);

describe('a blank stretch', () => {
  test('runs from the last sample before blanks to the first after them', async () => {
    expect(await blanksOf(seconds(0, 9, '12'), seconds(10, 19, ''), seconds(20, 29, '12'))).toEqual([
      [9, 20],
    ]);
  });

  test('is made by missing marks as by blanks', async () => {
    expect(await blanksOf(seconds(0, 9, '12'), seconds(10, 19, '---'), seconds(20, 29, '12'))).toEqual([
      [9, 20],
    ]);
  });

  test('is longer than three intervals, as a gap is', async () => {
    expect(await blanksOf(seconds(0, 9, '12'), seconds(10, 11, ''), seconds(12, 29, '12'))).toEqual([]);
    expect(await blanksOf(seconds(0, 9, '12'), seconds(10, 12, ''), seconds(13, 29, '12'))).toEqual([
      [9, 13],
    ]);
  });

  test('is none where no rows came at all', async () => {
    expect(await blanksOf(seconds(0, 9, '12'), seconds(20, 29, '12'))).toEqual([]);
  });

  test('may open and close the recording', async () => {
    expect(await blanksOf(seconds(0, 9, ''), seconds(10, 19, '12'), seconds(20, 29, ''))).toEqual([
      [0, 10],
      [19, 29],
    ]);
  });

  test('may open the recording with a single blank row', async () => {
    expect(await blanksOf(seconds(0, 0, ''), seconds(10, 19, '12'))).toEqual([[0, 10]]);
  });

  test('is the whole recording where no value came', async () => {
    expect(await blanksOf(seconds(0, 29, ''))).toEqual([[0, 29]]);
  });

  test('stands apart from the next', async () => {
    const parts = [seconds(0, 9, '1'), seconds(10, 19, ''), seconds(20, 20, '1'), seconds(21, 29, '')];
    expect(await blanksOf(...parts, seconds(30, 60, '1'))).toEqual([
      [9, 20],
      [20, 30],
    ]);
  });

  test('is none where another file holds the values', async () => {
    const [{ recording, setAside }] = await ingestFiles(
      {
        'a.csv': ICP_HEADER + seconds(0, 9, '12') + seconds(10, 19, '') + seconds(20, 29, '12'),
        'b.csv': ICP_HEADER + seconds(10, 19, '13'),
      },
      { patient: { id: 'p' } },
    );
    expect(recording?.channels.icp?.blanks).toEqual([]);
    expect(recording?.channels.icp?.signal.times).toHaveLength(30);
    expect(setAside.map(({ file, kind }) => `${file} ${kind}`)).toEqual(Array(10).fill('a.csv repeat'));
  });

  test('stays one where only another channel has values at these times, in another file or another row', async () => {
    const icp = ICP_HEADER + seconds(0, 9, '12') + seconds(10, 19, '---') + seconds(20, 29, '12');
    const beside = { 'a.csv': icp, 'b.csv': `Time,HR (/min)\n${seconds(0, 29, '80')}` };
    const long = [seconds(0, 9, 'ICP,12'), seconds(10, 19, 'ICP,---'), seconds(20, 29, 'ICP,12')];
    const rows = [...long, seconds(0, 29, 'MAP,80')].join('').replaceAll('\n', ',mmHg\n');
    for (const files of [beside, { 'a.csv': `Time,Parameter,Value,Unit\n${rows}` }]) {
      const [{ recording, rowsRead, setAside }] = await ingestFiles(files, { patient: { id: 'p' } });
      expect(recording?.channels.icp?.blanks).toEqual([{ start: START + 9_000, end: START + 20_000 }]);
      expect([rowsRead, setAside]).toEqual([60, []]);
    }
  });
});
