import { describe, expect, test } from 'vitest';
import type { Ingested } from '../../src/ingest/ingest.js';
import { knownIntervals } from '../../src/recording/signal.js';
import {
  expectAccount,
  type Files,
  ICP_HEADER,
  icpRows,
  ingestFiles,
  ingestOne,
  START,
  samplesOf,
  valuesOf,
  wall,
} from './support.js';

/** Reads all files as one patient's. */
async function join(files: Files): Promise<Ingested> {
  const outcomes = await ingestFiles(files, { patient: { id: 'p' } });
  expect(outcomes).toHaveLength(1);
  return outcomes[0];
}

const at = (second: number): string => wall(START + second * 1000);

describe('several files of a patient', () => {
  test('give the recording that one file with all rows gives, whatever their names say of the order', async () => {
    const whole = await ingestOne(ICP_HEADER + icpRows(30));
    const joined = await join({
      'z.csv': ICP_HEADER + icpRows(10),
      'm.csv': ICP_HEADER + icpRows(10, START + 10_000),
      'a.csv': ICP_HEADER + icpRows(10, START + 20_000),
    });
    expect(samplesOf(joined, 'icp')).toEqual(samplesOf(whole, 'icp'));
    expect(joined.recording?.extent).toEqual(whole.recording?.extent);
    expect(knownIntervals(joined.recording!.channels.icp!.signal)).toEqual(
      knownIntervals(whole.recording!.channels.icp!.signal),
    );
    expectAccount(joined, { read: 30, used: 30 });
  });

  test('may overlap: rows that stand twice are set aside with the place of the first', async () => {
    const joined = await join({
      'a.csv': ICP_HEADER + icpRows(10),
      'b.csv': ICP_HEADER + icpRows(10).split('\n').slice(7).join('\n') + icpRows(5, START + 10_000),
    });
    expect(joined.setAside).toEqual([
      { file: 'b.csv', line: 2, reason: 'same time as line 9 of a.csv, and nothing new' },
      { file: 'b.csv', line: 3, reason: 'same time as line 10 of a.csv, and nothing new' },
      { file: 'b.csv', line: 4, reason: 'same time as line 11 of a.csv, and nothing new' },
    ]);
    expectAccount(joined, { read: 18, used: 15 });
  });

  test('may contradict each other: the first by name is kept, the other row is set aside', async () => {
    const joined = await join({
      'b.csv': `${ICP_HEADER}${at(0)},12\n${at(1)},99\n${at(2)},3\n${at(3)},14\n`,
      'a.csv': `${ICP_HEADER}${at(1)},13\n${at(2)},13\n`,
    });
    expect(valuesOf(joined, 'icp')).toEqual([12, 13, 13, 14]);
    expect(joined.setAside).toEqual([
      { file: 'b.csv', line: 3, reason: 'same time as line 2 of a.csv, which is kept, with other values' },
      { file: 'b.csv', line: 4, reason: 'same time as line 3 of a.csv, which is kept, with other values' },
    ]);
    expectAccount(joined, { read: 6, used: 4 });
  });

  test('may hold one channel each', async () => {
    const joined = await join({
      'icp.csv': ICP_HEADER + icpRows(5),
      'map.csv': `Time,ART M (kPa)\n${at(1)},10\n${at(2)},11\n${at(7)},12\n`,
    });
    expect(valuesOf(joined, 'icp')).toEqual([10, 11, 12, 13, 14]);
    // NIST SP 811: 1 kPa = 1000/133.3224 mmHg.
    expect(valuesOf(joined, 'map').map((x) => x.toFixed(4))).toEqual(['75.0062', '82.5068', '90.0074']);
    expect(joined.setAside).toEqual([]);
    expect(joined.rowsRead).toBe(8);
    expect(joined.recording?.extent).toEqual({ start: START, end: START + 7000 });
  });

  test('may complete each other at the same time, in three parts', async () => {
    const joined = await join({
      'a.csv': `Time,ICP (mmHg),MAP (mmHg)\n${at(0)},,\n`,
      'b.csv': `Time,MAP (mmHg)\n${at(0)},80\n`,
      'c.csv': `${ICP_HEADER}${at(0)},12\n`,
    });
    expect([samplesOf(joined, 'icp'), samplesOf(joined, 'map')]).toEqual([
      [[new Date(START).toISOString(), 12]],
      [[new Date(START).toISOString(), 80]],
    ]);
    expect(joined.setAside).toEqual([]);
  });

  test('set a row aside that repeats what two earlier files hold together', async () => {
    const joined = await join({
      'a.csv': `${ICP_HEADER}${at(0)},12\n`,
      'b.csv': `Time,MAP (mmHg)\n${at(0)},80\n`,
      'c.csv': `Time,MAP (mmHg),ICP (mmHg)\n${at(0)},80,12\n`,
      'd.csv': `Time,MAP (mmHg),ICP (mmHg)\n${at(0)},79,12\n`,
    });
    expect([valuesOf(joined, 'icp'), valuesOf(joined, 'map')]).toEqual([[12], [80]]);
    expect(joined.setAside).toEqual([
      { file: 'c.csv', line: 2, reason: 'same time as line 2 of a.csv, and nothing new' },
      { file: 'd.csv', line: 2, reason: 'same time as line 2 of b.csv, which is kept, with other values' },
    ]);
  });

  test('never replace a value where a later row both adds a channel and contradicts another', async () => {
    const joined = await join({
      'a.csv': `${ICP_HEADER}${at(0)},12\n`,
      'b.csv': `Time,ICP (mmHg),MAP (mmHg)\n${at(0)},13,80\n${at(1)},14,81\n`,
    });
    expect([valuesOf(joined, 'icp'), valuesOf(joined, 'map')]).toEqual([[12, 14], [81]]);
    expect(joined.setAside).toEqual([
      { file: 'b.csv', line: 2, reason: 'same time as line 2 of a.csv, which is kept, with other values' },
    ]);
  });

  test('never take a part of a later row, whichever of its channels contradicts', async () => {
    const joined = await join({
      'a.csv': `Time,MAP (mmHg)\n${at(0)},80\n`,
      'b.csv': `Time,ICP (mmHg),MAP (mmHg)\n${at(0)},13,81\n${at(1)},14,82\n`,
    });
    expect([valuesOf(joined, 'icp'), valuesOf(joined, 'map')]).toEqual([[14], [80, 82]]);
    expect(joined.setAside).toHaveLength(1);
  });

  test('keep the finest decimals of any of them', async () => {
    const joined = await join({
      'a.csv': `${ICP_HEADER}${at(0)},12\n`,
      'b.csv': `${ICP_HEADER}${at(1)},12.5\n`,
      'c.csv': `${ICP_HEADER}${at(2)},12\n`,
    });
    expect(joined.recording?.channels.icp?.decimals).toBe(1);
  });

  test('all fail where one of them cannot be used, and all their rows are set aside', async () => {
    const joined = await join({
      'a.csv': ICP_HEADER + icpRows(4),
      'b.csv': `Time,ICP\n${icpRows(3, START + 10_000)}`,
      'c.csv': `${ICP_HEADER}${icpRows(2, START + 20_000)}x,1\n`,
    });
    expect(joined.problem).toContain('b.csv, line 1, column "ICP": its unit is not given.');
    expect(joined.setAside).toEqual([
      { file: 'a.csv', line: 2, reason: 'all 4 rows: the patient failed' },
      { file: 'c.csv', line: 2, reason: 'all 3 rows: the patient failed' },
    ]);
    expectAccount(joined, { read: 7, used: 0 });
  });
});

describe('channels of different rates in one file', () => {
  const rows = Array.from({ length: 181 }, (_, s) => `${at(s)},${s % 60 === 0 ? 12 : ''},${80 + (s % 3)}\n`);

  test('keep their own samples, their own nominal interval and their own known time', async () => {
    const outcome = await ingestOne(`Time,ICP (mmHg),MAP (mmHg)\n${rows.join('')}`);
    const { icp, map } = outcome.recording!.channels;
    expect([icp?.signal.times.length, icp?.nominalIntervalMs]).toEqual([4, 60_000]);
    expect([map?.signal.times.length, map?.nominalIntervalMs]).toEqual([181, 1000]);
    const whole = [{ start: START, end: START + 180_000 }];
    expect(knownIntervals(icp!.signal)).toEqual(whole);
    expect(knownIntervals(map!.signal)).toEqual(whole);
    expect([outcome.rowsRead, outcome.setAside]).toEqual([181, []]);
  });

  test('are no blanks: a cell that the rate leaves empty is not a disconnection', async () => {
    const outcome = await ingestOne(`Time,ICP (mmHg),MAP (mmHg)\n${rows.join('')}`);
    expect(outcome.recording?.channels.icp?.blanks).toEqual([]);
  });
});
