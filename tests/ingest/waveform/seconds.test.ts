import { gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CleanSettings } from '../../../src/clean/clean.js';
import { watchOf } from '../../../src/clean/watch.js';
import { rawSignal } from '../../../src/recording/recording.js';
import { runPython } from '../../support/python.js';
import { WAVE_START, waveCsv } from '../../support/waves.js';
import { asideOf, ingestFiles, rowsSetAside, seeded, wall } from '../support.js';
import { ingestWave, ingestWaves, USUAL_RULES } from './support.js';

const RATE = 125;
const second = (s: number): string => wall(WAVE_START + 1000 * s);

const timesOf = (outcome: Awaited<ReturnType<typeof ingestWave>>, kind: 'icp' | 'map' = 'icp'): string[] =>
  [...rawSignal(outcome.recording!, kind).times].map(wall);

/** Checks that each row was used or set aside. */
function expectRows(outcome: Awaited<ReturnType<typeof ingestWave>>, read: number, aside: number): void {
  expect(outcome.problem).toBeNull();
  expect({ read: outcome.rowsRead, aside: rowsSetAside(outcome) }).toEqual({ read, aside });
}

describe('a waveform', () => {
  const text = waveCsv({ samplesPerSecond: RATE, seconds: 120 });

  it('becomes means of whole seconds, at their start, as numpy computes them', async () => {
    const outcome = await ingestWave(text);
    expectRows(outcome, 120 * RATE, 0);
    const { icp, map } = outcome.recording!.channels;
    expect(timesOf(outcome)).toEqual(Array.from({ length: 120 }, (_, s) => second(s)));
    expect(icp!.nominalIntervalMs).toBe(1000);
    const cells = text
      .trimEnd()
      .split('\n')
      .slice(1)
      .map((line) => line.split(',').slice(1).map(Number));
    const expected = runPython<number[][]>(
      'import json, sys, numpy as np\nx = np.array(json.load(sys.stdin))\njson.dump(x.reshape(-1, 125, 2).mean(axis=1).T.tolist(), sys.stdout)',
      cells,
    );
    for (const [c, channel] of [icp!, map!].entries()) {
      channel.signal.values.forEach((value, s) => {
        expect(Math.abs(value - expected[c][s])).toBeLessThan(1e-9);
      });
    }
  });

  it('takes a bare ABP as the waveform whose mean is MAP, and says so', async () => {
    const outcome = await ingestWave(text);
    expect(outcome.recording!.channels.map!.header).toBe('ABP (mmHg)');
    expect(outcome.files[0].columns.map(({ kind }) => kind)).toEqual(['icp', 'map']);
    expect(outcome.files[0].reading.times).toBe(
      'calendar times, year first; a waveform, read as means over whole seconds',
    );
    expect(outcome.warnings).toEqual([
      'a.csv: the file is a waveform of 125 samples a second of ICP and arterial pressure, which is read as means over whole seconds.',
    ]);
    expect(outcome.recording!.waveform).toEqual({ samplesPerSecond: 125, marks: [] });
  });

  it('is one from 10 samples a second on; below, a bare ABP says nothing and rows stay rows', async () => {
    const [fine, coarse] = await Promise.all(
      [10, 8].map((samplesPerSecond) => ingestWave(waveCsv({ samplesPerSecond, seconds: 60 }))),
    );
    expect(fine.recording!.channels.icp!.signal.times.length).toBe(60);
    expect(coarse.recording!.waveform).toBeUndefined();
    expect(coarse.recording!.channels.icp!.signal.times.length).toBe(480);
    expect(coarse.recording!.channels.map).toBeUndefined();
    expect(coarse.files[0].leftAlone).toEqual([
      { header: 'ABP (mmHg)', why: 'it does not say mean, systolic or diastolic' },
    ]);
  });

  it('has its rate found though times are whole milliseconds', async () => {
    const outcome = await ingestWave(waveCsv({ samplesPerSecond: 240, seconds: 30 }));
    expectRows(outcome, 30 * 240, 0);
    expect(outcome.recording!.waveform!.samplesPerSecond).toBe(240);
  });

  it('prefers the arterial waveform to a MAP beside it, and averages other columns', async () => {
    const [header, ...rows] = text.trimEnd().split('\n');
    const wide = [`${header},MAP (mmHg),HR (/min)`, ...rows.map((row, i) => `${row},91,${i % 2 ? 72 : 74}`)];
    const outcome = await ingestWave(`${wide.join('\n')}\n`);
    const { map, hr } = outcome.recording!.channels;
    expect(map!.header).toBe('ABP (mmHg)');
    expect(outcome.files[0].leftAlone).toEqual([
      { header: 'MAP (mmHg)', why: 'MAP is the mean of the arterial waveform' },
    ]);
    expect(hr!.derivedFrom).toBeNull();
    expect(hr!.signal.values[0]).toBeCloseTo(73, 1);
  });

  it('takes channels at half the rate, and numbers once a second, as they come', async () => {
    const [header, ...rows] = waveCsv({
      samplesPerSecond: RATE,
      seconds: 60,
      edit: ({ i, icp, abp }) => ({ icp, abp: i % 2 === 0 ? abp : '' }),
    })
      .trimEnd()
      .split('\n');
    const wide = [`${header},HR`, ...rows.map((row, i) => `${row},${i % RATE === 0 ? 72 : ''}`)];
    const outcome = await ingestWave(`${wide.join('\n')}\n`);
    expectRows(outcome, 60 * RATE, 0);
    expect(timesOf(outcome, 'map')).toEqual(timesOf(outcome, 'icp'));
    expect([...outcome.recording!.channels.hr!.signal.values]).toEqual(new Array(60).fill(72));
  });

  it('leaves a second out that has less than half of its rows or samples, and its rows are set aside', async () => {
    // Half of 125 is 62.5: with 63 rows a second counts.
    const of = (kept: number) =>
      ingestWave(
        text
          .split('\n')
          .filter((_, line) => !(line > 5 * RATE + kept && line <= 6 * RATE))
          .join('\n'),
      );
    const [enough, few] = await Promise.all([of(63), of(62)]);
    expectRows(enough, 120 * RATE - 62, 0);
    expect(timesOf(enough)).toContain(second(5));
    expectRows(few, 120 * RATE - 63, 62);
    expect(timesOf(few)).not.toContain(second(5));
    expect(asideOf(few)).toEqual([
      `a.csv:${5 * RATE + 2} sparse: in a second with less than half of its 125 rows`,
    ]);
    const blank = await ingestWave(
      waveCsv({
        samplesPerSecond: RATE,
        seconds: 60,
        edit: ({ t, icp, abp }) => ({ icp: t >= 7 && t < 7.6 ? '---' : icp, abp }),
      }),
    );
    expectRows(blank, 60 * RATE, 0);
    expect(timesOf(blank)).not.toContain(second(7));
    expect(timesOf(blank, 'map')).toContain(second(7));
  });

  it('keeps the mean as exported of a second that holds artifact, and marks the second as a whole', async () => {
    const outcome = await ingestWave(
      waveCsv({
        samplesPerSecond: RATE,
        seconds: 60,
        edit: ({ i, icp, abp }) => ({ icp: i === 20 * RATE + 30 ? 999 : icp, abp }),
      }),
    );
    const { icp } = outcome.recording!.channels;
    const plain = (await ingestWave(text)).recording!.channels.icp!;
    const before = plain.signal.values[20];
    // The sample that 999 replaced was between 5 and 20 mmHg.
    expect(icp!.signal.values[20]).toBeGreaterThan(before + (999 - 20) / RATE);
    expect(icp!.signal.values[20]).toBeLessThan(before + (999 - 5) / RATE);
    const mark = { channel: 'icp', start: WAVE_START + 20_000, end: WAVE_START + 20_000 };
    expect(outcome.recording!.waveform!.marks).toEqual([
      { ...mark, rule: 'outsideRange' },
      { ...mark, rule: 'transient' },
    ]);
    const [off, moved] = await Promise.all(
      ([{}, { outsideRange: { ...USUAL_RULES.outsideRange, icpHighestMmHg: 1000 } }] as CleanSettings[]).map(
        (rules) =>
          ingestWave(
            waveCsv({
              samplesPerSecond: RATE,
              seconds: 60,
              edit: ({ i, icp: x, abp }) => ({ icp: i === 20 * RATE + 30 ? 999 : x, abp }),
            }),
            { watch: watchOf(rules) },
          ),
      ),
    );
    expect([off, moved].map(({ recording }) => recording!.waveform!.marks)).toEqual([[], []]);
  });

  it('tells of blanks as a 1 Hz export does', async () => {
    const outcome = await ingestWave(
      waveCsv({
        samplesPerSecond: RATE,
        seconds: 60,
        edit: ({ t, icp, abp }) => ({ icp: t >= 20 && t < 40 ? '' : icp, abp }),
      }),
    );
    expect(outcome.recording!.channels.icp!.blanks.map(({ start, end }) => [wall(start), wall(end)])).toEqual(
      [[second(19), second(40)]],
    );
  });

  it('sets rows aside that are out of order or repeat, and says which', async () => {
    const lines = text.trimEnd().split('\n');
    const [early, again] = [lines[300], lines[500]];
    const other = again.replace(/,[^,]*$/, ',1');
    const mixed = [
      ...lines.slice(0, 501),
      again,
      other,
      ...lines.slice(501, 1001),
      early,
      ...lines.slice(1001),
    ];
    const outcome = await ingestWave(`${mixed.join('\n')}\n`);
    expectRows(outcome, 120 * RATE + 3, 3);
    expect(asideOf(outcome)).toEqual([
      'a.csv:502 repeat: same time as the row before it, and nothing new',
      'a.csv:503 conflict: same time as the row before it, with other values',
      'a.csv:1004 order: earlier than the row before it, and rows of a waveform are read in the order of their times',
    ]);
    const plain = await ingestWave(text);
    expect(rawSignal(outcome.recording!, 'icp')).toEqual(rawSignal(plain.recording!, 'icp'));
  });

  it('is refused where the newest row stands first', async () => {
    const [header, ...rows] = text.trimEnd().split('\n');
    const outcome = await ingestWave(`${[header, ...rows.toReversed()].join('\n')}\n`);
    // The head has no rising times, so it is read as rows, which are sorted.
    expect(outcome.problem).toBeNull();
    const half = await ingestWave(
      `${[header, ...rows.slice(0, 2000), ...rows.slice(2000).toReversed()].join('\n')}\n`,
    );
    expect(half.problem).toBe(
      'a.csv, line 2003: 12999 of 15000 rows cannot be used, this one first: earlier than the row before it, and rows of a waveform are read in the order of their times. Export the rows in the order of their times, or sort the file.',
    );
  });

  it('sets a bad cell aside with its row', async () => {
    const outcome = await ingestWave(
      waveCsv({
        samplesPerSecond: RATE,
        seconds: 60,
        edit: ({ i, icp, abp }) => ({ icp: i === 1000 ? 'x1' : icp, abp }),
      }),
    );
    expectRows(outcome, 60 * RATE, 1);
    expect(asideOf(outcome)).toEqual(['a.csv:1002 unreadable: column "ICP (mmHg)": "x1" is not a number']);
  });

  it('gives the same, whatever the chunks, packed or not', async () => {
    const rough = waveCsv({
      samplesPerSecond: 50,
      seconds: 45,
      edit: ({ i, icp, abp }) => ({
        icp: i % 997 === 5 ? 99 : icp,
        abp: i > 900 && i < 1100 ? 60 : i % 700 === 3 ? '' : abp,
      }),
    });
    const whole = await ingestWave(rough);
    expect(whole.recording!.waveform!.marks.length).toBeGreaterThan(2);
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 37, max: 60_000 }), fc.boolean(), async (chunkBytes, isPacked) => {
        const content = isPacked ? gzipSync(rough) : rough;
        const { recording, setAside } = await ingestWave(content, { chunkBytes });
        expect({ recording, setAside }).toEqual({ recording: whole.recording, setAside: whole.setAside });
      }),
      seeded(40),
    );
  });

  it('gives the same by the long way as by the short one', async () => {
    const short = await ingestWave(text);
    const long = await ingestWave(text, { settings: { hasLane: false } });
    expect(long.recording).toEqual(short.recording);
  });
});

describe('a waveform file', () => {
  it('may hold several patients, row by row', async () => {
    const [header, ...rows] = waveCsv({ samplesPerSecond: RATE, seconds: 30 }).trimEnd().split('\n');
    const both = rows.flatMap((row, i) => [
      `${row},1`,
      `${row.replace(/,[^,]*,/, `,${i % 2 ? 30 : 32},`)},2`,
    ]);
    const outcomes = await ingestFiles(
      { 'a.csv': `${header},Patient\n${both.join('\n')}\n` },
      { patient: { column: 'Patient' } },
    );
    expect(outcomes.map(({ id }) => id)).toEqual(['1', '2']);
    for (const outcome of outcomes) {
      expectRows(outcome, 30 * RATE, 0);
      expect(timesOf(outcome)).toHaveLength(30);
    }
    expect(rawSignal(outcomes[1].recording!, 'icp').values[3]).toBeCloseTo(31, 1);
  });

  it('of less than half a second has no row that can be used, and says why', async () => {
    const short = waveCsv({ samplesPerSecond: RATE, seconds: 0.4 });
    expect((await ingestWave(short)).problem).toBe(
      'a.csv, line 2: 50 of 50 rows cannot be used, this one first: in a second with less than half of its 125 rows. Export without holes; what comes at another rate goes into a file of its own.',
    );
  });

  it('may count its seconds or milliseconds from a start, or since 1970', async () => {
    const [, ...rows] = waveCsv({ samplesPerSecond: RATE, seconds: 20 }).trimEnd().split('\n');
    const values = rows.map((row) => row.split(',').slice(1).join(','));
    const written = (time: (i: number) => string, header: string): string =>
      `${header},ICP (mmHg),ABP (mmHg)\n${values.map((value, i) => `${time(i)},${value}`).join('\n')}\n`;
    const start = '2031-02-11 02:00:00';
    const outcomes = await Promise.all([
      ingestWave(
        written((i) => (i / RATE).toFixed(3), 'Elapsed (s)'),
        {
          settings: { columns: { time: { start } } },
        },
      ),
      ingestWave(written((i) => String(WAVE_START + (1000 * i) / RATE), 'Time')),
    ]);
    const plain = await ingestWave(waveCsv({ samplesPerSecond: RATE, seconds: 20 }));
    for (const { recording, problem } of outcomes) {
      expect(problem).toBeNull();
      expect(rawSignal(recording!, 'icp')).toEqual(rawSignal(plain.recording!, 'icp'));
    }
  });
});

describe('several waveform files of a patient', () => {
  const minutes = (from: number, to: number): string =>
    waveCsv({ samplesPerSecond: RATE, seconds: (to - from) * 60, start: WAVE_START + from * 60_000 });

  it('join', async () => {
    const outcome = await ingestWaves({ 'a.csv': minutes(2, 4), 'b.csv': minutes(0, 2) });
    expectRows(outcome, 240 * RATE, 0);
    expect(timesOf(outcome)).toEqual(Array.from({ length: 240 }, (_, s) => second(s)));
    expect(outcome.recording!.channels.icpPulse!.signal.times.length).toBe(24);
  });

  it('that contradict each other for a while are not used there, and no pulse is known', async () => {
    const other = waveCsv({
      samplesPerSecond: RATE,
      seconds: 10,
      start: WAVE_START + 60_000,
      edit: ({ icp, abp }) => ({ icp: icp + 9, abp }),
    });
    const outcome = await ingestWaves({ 'a.csv': minutes(0, 2), 'b.csv': other });
    expectRows(outcome, 130 * RATE, 20 * RATE);
    const { icp, icpPulse } = outcome.recording!.channels;
    expect([icp!.signal.times.length, icpPulse!.signal.times.length]).toEqual([110, 11]);
    expect([...icpPulse!.signal.times]).not.toContain(WAVE_START + 65_000);
  });

  it('give each mark once where they repeat each other, and word a conflict as one of means', async () => {
    const edit = ({ i, icp, abp }: { i: number; icp: number; abp: number }) => ({
      icp: i === 20 * RATE ? 999 : icp,
      abp,
    });
    const file = waveCsv({ samplesPerSecond: RATE, seconds: 60, edit });
    const [one, two] = [await ingestWave(file), await ingestWaves({ 'a.csv': file, 'b.csv': file })];
    expect(one.recording!.waveform!.marks.length).toBeGreaterThan(0);
    expect(two.recording!.waveform!.marks).toEqual(one.recording!.waveform!.marks);
    const other = await ingestWaves({
      'a.csv': file,
      'b.csv': waveCsv({
        samplesPerSecond: RATE,
        seconds: 10,
        edit: ({ icp, abp }) => ({ icp: icp + 9, abp }),
      }),
    });
    expect(asideOf(other)[0]).toMatch(
      /^a\.csv:2 conflict: the second that begins here has another mean of ICP than that from line 2 of b\.csv on: [\d.]+ here, [\d.]+ there$/,
    );
  });

  it('say why no pulse is known', async () => {
    const { warnings } = await ingestWave(
      minutes(0, 2)
        .split('\n')
        .filter((_, i) => i % (3 * RATE) < 2 * RATE)
        .join('\n'),
    );
    expect(warnings).toContain(
      'a.csv: no pulse could be measured: it needs 8 s in a row of evenly spaced samples, without artifact, in which a heart beat stands out.',
    );
  });

  it('count once where they repeat each other, by rows and not by seconds', async () => {
    const outcome = await ingestWaves({ 'a.csv': minutes(0, 2), 'b.csv': minutes(0, 2) });
    expectRows(outcome, 240 * RATE, 120 * RATE);
    expect(timesOf(outcome).length).toBe(120);
    expect(outcome.recording!.channels.icpPulse!.signal.times.length).toBe(12);
  });
});

describe('a waveform and numbers of the same patient', () => {
  const wave = waveCsv({ samplesPerSecond: RATE, seconds: 120 });
  const numbers = (hasRate: boolean): string =>
    [
      hasRate ? 'Time,ICP (mmHg),HR' : 'Time,ICP (mmHg)',
      ...Array.from({ length: 300 }, (_, s) => `${second(s - 60)},21${hasRate ? ',70' : ''}`),
    ].join('\n');

  it('the waveform counts where it is known, the numbers elsewhere', async () => {
    const outcome = await ingestWaves({ 'n.csv': numbers(true), 'w.csv': wave });
    expectRows(outcome, 300 + 120 * RATE, 0);
    const { times, values } = rawSignal(outcome.recording!, 'icp');
    expect(times.length).toBe(300);
    for (let i = 0; i < 300; i++) expect(values[i] === 21, wall(times[i])).toBe(i < 60 || i >= 180);
    expect(outcome.recording!.channels.hr!.signal.times.length).toBe(300);
    expect(outcome.warnings).toContain(
      'n.csv: ICP also comes as a waveform; where that is known it counts, and the numbers of this file elsewhere.',
    );
  });

  it('a row of which nothing is left is set aside', async () => {
    const outcome = await ingestWaves({ 'n.csv': numbers(false), 'w.csv': wave });
    expectRows(outcome, 300 + 120 * RATE, 120);
    expect(asideOf(outcome)).toEqual([
      'n.csv:62 repeat: the waveform of the same time counts, and nothing else stands in the row',
    ]);
  });

  it('numbers fill a hole of the waveform', async () => {
    const lines = wave.trimEnd().split('\n');
    const holed = [...lines.slice(0, 1 + 30 * RATE), ...lines.slice(1 + 50 * RATE)].join('\n');
    const outcome = await ingestWaves({ 'n.csv': numbers(true), 'w.csv': holed });
    const { times, values } = rawSignal(outcome.recording!, 'icp');
    expect(times.length).toBe(300);
    for (let i = 0; i < 300; i++) {
      expect(values[i] === 21, wall(times[i])).toBe(i < 60 || (i >= 90 && i < 110) || i >= 180);
    }
  });
});

describe('the hour that the clock shows twice', () => {
  const zone = 'Europe/Oslo';
  // The night of 26 October 2031: at 01:00 UTC, 03:00 becomes 02:00.
  const change = Date.UTC(2031, 9, 26, 1);

  it('has two passes where the times start again', async () => {
    const start = change - 30_000;
    const local = (ms: number): number => ms + (ms < change ? 2 : 1) * 3_600_000;
    const rows = Array.from({ length: 60 * 50 }, (_, i) => {
      const ms = local(start + i * 20);
      return `${wall(ms)}.${String(ms % 1000).padStart(3, '0')},${(10 + 2 * Math.sin(i / 7)).toFixed(1)}`;
    });
    const outcome = await ingestWave(`Time,ICP (mmHg)\n${rows.join('\n')}\n`, { settings: { zone } });
    expectRows(outcome, 3000, 0);
    expect(timesOf(outcome)).toEqual(Array.from({ length: 60 }, (_, s) => wall(start + 1000 * s)));
  });

  it('is told where a file begins in it', async () => {
    const text = waveCsv({ samplesPerSecond: 50, seconds: 60, start: Date.UTC(2031, 9, 26, 2, 10) });
    const { warnings } = await ingestWave(text, { settings: { zone } });
    expect(warnings[1]).toBe(
      'a.csv: it begins in the hour that the clock shows twice that night, and nothing says which one is meant; its first row was taken for 2031-10-26T02:10:00+02:00.',
    );
  });
});
