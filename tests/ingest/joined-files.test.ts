import { describe, expect, test } from 'vitest';
import type { Ingested } from '../../src/ingest/ingest.js';
import { knownIntervals } from '../../src/recording/signal.js';
import {
  asideOf,
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
    expect(asideOf(joined)).toEqual([
      'b.csv:2 repeat: same time as line 9 of a.csv, and nothing new',
      'b.csv:3 repeat: same time as line 10 of a.csv, and nothing new',
      'b.csv:4 repeat: same time as line 11 of a.csv, and nothing new',
    ]);
    expectAccount(joined, { read: 18, used: 15 });
  });

  const conflictFix =
    'Where each row has a time of its own, export it with the seconds; where files of two patients or two monitors are mixed, tell them apart.';

  test('may contradict each other: both rows are set aside, each with both values', async () => {
    const joined = await join({
      'b.csv': `${ICP_HEADER}${at(0)},12\n${at(1)},99\n${at(2)},13\n${at(3)},14\n`,
      'a.csv': `${ICP_HEADER}${at(1)},13.25\n${at(2)},13\n`,
    });
    expect(valuesOf(joined, 'icp')).toEqual([12, 13, 14]);
    expect(joined.setAside).toEqual([
      {
        file: 'a.csv',
        line: 2,
        rows: 1,
        kind: 'conflict',
        reason: 'same time as line 3 of b.csv, with another ICP: 13.25 here, 99 there',
        fix: conflictFix,
        row: `${at(1)},13.25`,
      },
      {
        file: 'b.csv',
        line: 3,
        rows: 1,
        kind: 'conflict',
        reason: 'same time as line 2 of a.csv, with another ICP: 99 here, 13.25 there',
        fix: conflictFix,
        row: `${at(1)},99`,
      },
      {
        file: 'b.csv',
        line: 4,
        rows: 1,
        kind: 'repeat',
        reason: 'same time as line 3 of a.csv, and nothing new',
        row: `${at(2)},13`,
      },
    ]);
    expectAccount(joined, { read: 6, used: 3 });
  });

  test('fail the patient where they contradict each other in most rows', async () => {
    const joined = await join({
      'a.csv': `${ICP_HEADER}${at(0)},12\n${at(1)},13\n${at(2)},14\n`,
      'b.csv': `${ICP_HEADER}${at(1)},23\n${at(2)},24\n${at(3)},25\n`,
    });
    expect(joined.problem).toBe(
      `a.csv, line 3: 4 of 6 rows cannot be used, this one first: same time as line 2 of b.csv, with another ICP: 13 here, 23 there. ${conflictFix}`,
    );
    expectAccount(joined, { read: 6, used: 0 });
  });

  describe('with the same channel over the same time', () => {
    const minutes = (count: number, offset: number, value: string, step = 60): string =>
      Array.from({ length: count }, (_, i) => `${at(offset + i * step)},${value}\n`).join('');
    const zigzag = (minutesInCommon: number): string =>
      `b.csv, line 2: a.csv and b.csv both hold ICP over the same ${minutesInCommon} min, in rows that do not fit each other. Where they are two patients or two sources, tell them apart; otherwise leave one of them out.`;

    test('fail the patient where their rows do not fit each other, which would make a zigzag', async () => {
      const joined = await join({
        'a.csv': ICP_HEADER + minutes(100, 0, '10'),
        'b.csv': ICP_HEADER + minutes(100, 30, '30'),
      });
      expect(joined.problem).toBe(zigzag(99));
      expectAccount(joined, { read: 200, used: 0 });
    });

    test('fail the patient so too where a row is repeated or the rows stand newest first', async () => {
      const a = minutes(100, 0, '10');
      const b = minutes(100, 30, '30');
      const newestFirst = (text: string): string => text.trimEnd().split('\n').reverse().join('\n');
      const repeated = await join({
        'a.csv': `${ICP_HEADER}${a}${at(99 * 60)},10\n`,
        'b.csv': ICP_HEADER + b,
      });
      expect(repeated.problem).toBe(zigzag(99));
      const turned = await join({ 'a.csv': ICP_HEADER + newestFirst(a), 'b.csv': ICP_HEADER + b });
      expect(turned.problem).toContain('in rows that do not fit each other');
    });

    test('may be at two rates, as means beside samples are', async () => {
      const joined = await join({
        'a.csv': ICP_HEADER + minutes(40, 0, '10'),
        'b.csv': ICP_HEADER + minutes(400, 1, '10', 6),
      });
      expectAccount(joined, { read: 440, used: 440 });
    });

    test('may overlap by a few rows at an edge', async () => {
      const joined = await join({
        'a.csv': ICP_HEADER + minutes(100, 0, '10'),
        'b.csv': ICP_HEADER + minutes(100, 91 * 60 + 30, '10'),
      });
      expectAccount(joined, { read: 200, used: 200 });
    });

    test('may hold another channel each at other times', async () => {
      const joined = await join({
        'a.csv': ICP_HEADER + minutes(100, 0, '10'),
        'b.csv': `Time,MAP (mmHg)\n${minutes(100, 30, '80')}`,
      });
      expect([joined.problem, joined.setAside]).toEqual([null, []]);
    });
  });

  test('may stand twice as whole files, however large', async () => {
    const rows = icpRows(200_000);
    const joined = await join({ 'a.csv': ICP_HEADER + rows, 'b.csv': ICP_HEADER + rows });
    expectAccount(joined, { read: 400_000, used: 200_000 });
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
    expect(asideOf(joined)).toEqual(['a.csv:2 repeat: same time as line 2 of b.csv, and nothing new']);
  });

  test('set a row aside that repeats what two earlier files hold together', async () => {
    const joined = await join({
      'a.csv': `${ICP_HEADER}${at(0)},12\n`,
      'b.csv': `Time,MAP (mmHg)\n${at(0)},80\n`,
      'c.csv': `Time,MAP (mmHg),ICP (mmHg)\n${at(0)},80,12\n`,
    });
    expect([valuesOf(joined, 'icp'), valuesOf(joined, 'map')]).toEqual([[12], [80]]);
    expect(asideOf(joined)).toEqual(['c.csv:2 repeat: same time as line 2 of a.csv, and nothing new']);
  });

  test('keep what no other row contradicts of a time at which two rows do', async () => {
    const joined = await join({
      'a.csv': `${ICP_HEADER}${at(0)},12\n${at(1)},13\n`,
      'b.csv': `Time,MAP (mmHg)\n${at(0)},80\n${at(1)},81\n`,
      'c.csv': `Time,MAP (mmHg),ICP (mmHg)\n${at(0)},79,12\n${at(1)},81,13\n`,
    });
    expect([valuesOf(joined, 'icp'), valuesOf(joined, 'map')]).toEqual([[12, 13], [81]]);
    expect(asideOf(joined)).toEqual([
      'b.csv:2 conflict: same time as line 2 of c.csv, with another MAP: 80 here, 79 there',
      'c.csv:2 conflict: same time as line 2 of b.csv, with another MAP: 79 here, 80 there',
      'c.csv:3 repeat: same time as line 3 of a.csv, and nothing new',
    ]);
  });

  test('never take a part of a row, whichever of its channels contradicts', async () => {
    for (const first of ['ICP', 'MAP']) {
      const second = first === 'ICP' ? 'MAP' : 'ICP';
      const joined = await join({
        'a.csv': `Time,${first} (mmHg)\n${at(0)},12\n`,
        'b.csv': `Time,${first} (mmHg),${second} (mmHg)\n${at(0)},13,80\n${at(1)},14,81\n${at(2)},15,82\n`,
      });
      const [ones, others] = [first, second].map((kind) =>
        valuesOf(joined, kind.toLowerCase() as 'icp' | 'map'),
      );
      expect([ones, others]).toEqual([
        [14, 15],
        [81, 82],
      ]);
      expect(asideOf(joined)).toEqual([
        `a.csv:2 conflict: same time as line 2 of b.csv, with another ${first}: 12 here, 13 there`,
        `b.csv:2 conflict: same time as line 2 of a.csv, with another ${first}: 13 here, 12 there`,
      ]);
    }
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
      {
        file: 'a.csv',
        line: 2,
        rows: 4,
        kind: 'failed',
        reason: 'all 4 rows: the patient failed',
        row: `${at(0)},10`,
      },
      {
        file: 'c.csv',
        line: 2,
        rows: 3,
        kind: 'failed',
        reason: 'all 3 rows: the patient failed',
        row: `${at(20)},10`,
      },
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
