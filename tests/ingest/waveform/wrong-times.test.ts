import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { rawSignal } from '../../../src/recording/recording.js';
import { WAVE_START, waveCsv } from '../../support/waves.js';
import { asideOf, rowsSetAside, seeded, wall } from '../support.js';
import { ingestWave } from './support.js';

const RATE = 50;
const lines = waveCsv({ samplesPerSecond: RATE, seconds: 300 }).trimEnd().split('\n');
const plain = await ingestWave(`${lines.join('\n')}\n`);

/** A row with another time. */
function stamped(row: string, time: number): string {
  const fraction = String(((time % 1000) + 1000) % 1000).padStart(3, '0');
  return `${wall(time)}.${fraction}${row.slice(row.indexOf(','))}`;
}

const timeOf = (row: number): number => WAVE_START + (1000 / RATE) * row;

/** The file with some rows, counted from 0, at other times. */
const withTimes = (times: ReadonlyMap<number, number>): string =>
  `${lines.map((line, i) => (times.has(i - 1) ? stamped(line, times.get(i - 1)!) : line)).join('\n')}\n`;

const secondsOf = ({ recording }: typeof plain): number[] => [...rawSignal(recording!, 'icp').times];

const WRONG = 'order: no row stands within 10 s of its time: the time seems to be wrong';

describe('a row of a waveform that is stamped ahead', () => {
  it.each([
    ['a day', 86_400_000],
    ['400 s', 400_000],
    ['11 s', 11_000],
  ])('by %s is set aside alone, and the rows behind it are read', async (_, ahead) => {
    const outcome = await ingestWave(withTimes(new Map([[6000, timeOf(6000) + ahead]])));
    expect(outcome.problem).toBeNull();
    expect(asideOf(outcome)).toEqual([`a.csv:6002 ${WRONG}`]);
    expect(outcome.setAside[0].fix).toBe('Correct the time, or leave the row out.');
    expect(secondsOf(outcome)).toEqual(secondsOf(plain));
  });

  it('is found as the first row and as the last', async () => {
    const first = await ingestWave(withTimes(new Map([[0, timeOf(0) + 86_400_000]])));
    expect(asideOf(first)).toEqual([`a.csv:2 ${WRONG}`]);
    expect(secondsOf(first)).toEqual(secondsOf(plain));
    const end = lines.length - 2;
    const last = await ingestWave(withTimes(new Map([[end, timeOf(end) + 86_400_000]])));
    expect(rowsSetAside(last)).toBe(1);
    expect(secondsOf(last)).toEqual(secondsOf(plain));
    expect(last.recording!.extent).toEqual(plain.recording!.extent);
  });

  it('costs single rows wherever it stands, and no seconds', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.uniqueArray(fc.integer({ min: 0, max: 1490 }), { minLength: 1, maxLength: 5 }),
        fc.integer({ min: 311_000, max: 9e7 }),
        async (tens, ahead) => {
          const rows = tens.map((n) => 10 * n + 3);
          const outcome = await ingestWave(withTimes(new Map(rows.map((row) => [row, timeOf(row) + ahead]))));
          expect(outcome.rowsRead).toBe(lines.length - 1);
          expect(rowsSetAside(outcome)).toBe(rows.length);
          expect(secondsOf(outcome)).toEqual(secondsOf(plain));
        },
      ),
      seeded(8),
    );
  });

  it('moves the clock where the next row goes on from there: a hole', async () => {
    const holed = [...lines.slice(0, 3001), ...lines.slice(6001)];
    const outcome = await ingestWave(`${holed.join('\n')}\n`);
    expect(rowsSetAside(outcome)).toBe(0);
    expect(secondsOf(outcome)).toEqual(
      secondsOf(plain).filter((time) => time < timeOf(3000) || time >= timeOf(6000)),
    );
  });
});

describe('what a waveform loses', () => {
  const told = ({ warnings }: typeof plain): string[] =>
    warnings.filter((words) => words.includes('of the waveform,'));

  it('is told in minutes where its clock is set back', async () => {
    const rows = Array.from({ length: 300 * RATE }, (_, i) => i).filter((i) => i >= 200 * RATE);
    const outcome = await ingestWave(withTimes(new Map(rows.map((i) => [i, timeOf(i) - 90_000]))));
    // The row at the time of the last one before is a conflict.
    expect(rowsSetAside(outcome)).toBe(90 * RATE);
    expect(told(outcome)).toEqual([
      'a.csv: 1.5 min of the waveform, the first in line 10002, are rows that are earlier than rows before them, as where a clock was set back; these 4499 were set aside.',
    ]);
  });

  it('is told in minutes where seconds lack most of their rows', async () => {
    const thin = lines.filter((_, i) => i < 5000 || i >= 10_000 || i % RATE < 20);
    const outcome = await ingestWave(`${thin.join('\n')}\n`);
    expect(told(outcome)).toEqual([
      'a.csv: 1.7 min of the waveform, the first in line 5002, are seconds that hold less than half of their rows; these 2000 rows were set aside.',
    ]);
  });

  it('is not told where it is a few seconds, or single rows', async () => {
    const thin = lines.filter((_, i) => i < 5000 || i >= 5200 || i % RATE < 20);
    const outcome = await ingestWave(`${thin.join('\n')}\n`);
    expect(rowsSetAside(outcome)).toBeGreaterThan(0);
    expect(told(outcome)).toEqual([]);
    expect(told(plain)).toEqual([]);
  });
});
