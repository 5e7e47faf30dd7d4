import {
  chmodSync,
  copyFileSync,
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { type RunOptions, runPipeline } from '../../src/index.js';
import type { RunEvent } from '../../src/pipeline/run-event.js';
import { decodeEntry } from '../../src/pipeline/stored-entry.js';
import { newFolder, nightCsv } from '../support/cistern.js';
import { differences } from '../support/compare-folders.js';
import { storedIn, unitOf } from '../support/unit.js';

const out = (folder: string): string => join(folder, 'report');
const store = (folder: string): string => join(folder, '.report.store');

/** A run in this process, without pages where nothing else is said; gives how many patients were read and reused. */
async function run(folder: string, options: RunOptions = {}): Promise<[done: number, reused: number]> {
  const how = { out: out(folder), threads: 1, pages: false, ...options };
  const { patients } = await runPipeline(join(folder, 'unit.yaml'), how);
  return [patients.done, patients.reused];
}

/** The same exports, as a run reports them that has nothing stored. */
async function expectUndisturbed(folder: string, options: RunOptions = {}): Promise<void> {
  const whole = join(newFolder(), 'report');
  await runPipeline(join(folder, 'unit.yaml'), { out: whole, threads: 1, pages: false, ...options });
  expect(differences(out(folder), whole, join(newFolder(), 'different'))).toEqual([]);
}

describe('a second run', () => {
  it('takes all patients from the store, and writes the same bytes', async () => {
    const folder = unitOf(3);
    expect(await run(folder, { pages: true })).toEqual([3, 0]);
    const before = join(newFolder(), 'before');
    cpSync(out(folder), before, { recursive: true });
    expect(await run(folder, { pages: true })).toEqual([0, 3]);
    expect(differences(out(folder), before, join(newFolder(), 'different'))).toEqual([]);
    expect(JSON.parse(readFileSync(join(out(folder), 'run.json'), 'utf8')).patients).toEqual({
      done: 0,
      reused: 3,
    });
  });

  it('reads a patient anew whose file has other content, also of the same size and time', async () => {
    const folder = unitOf(3);
    await run(folder);
    const file = join(folder, 'exports/2.csv');
    const { atime, mtime, size } = statSync(file);
    writeFileSync(file, readFileSync(file, 'utf8').replace(',28,', ',29,'));
    utimesSync(file, atime, mtime);
    expect(statSync(file).size).toBe(size);
    expect(await run(folder)).toEqual([1, 2]);
    await expectUndisturbed(folder);
    expect(storedIn(folder)).toHaveLength(3);
  });

  it('reads nobody anew whose file is only newer, or lies in another place', async () => {
    const folder = unitOf(2);
    await run(folder);
    utimesSync(join(folder, 'exports/1.csv'), new Date(), new Date());
    expect(await run(folder)).toEqual([0, 2]);
    const moved = join(newFolder(), 'unit');
    cpSync(folder, moved, { recursive: true });
    expect(await run(moved)).toEqual([0, 2]);
  });

  it.each<[string, RunOptions, [number, number]]>([
    ['another threshold', { set: ['segment.icp.thresholdMmHg=20'] }, [2, 0]],
    ['a rule switched off', { set: ['clean.briefSpike=off'] }, [2, 0]],
    ['another zone', { set: ['timezone=Europe/Oslo'] }, [2, 0]],
    ['pages', { pages: true }, [2, 0]],
    ['a patient who is expected', { set: ['expected=["9"]'] }, [0, 2]],
    ['another name', { set: ['name=other'] }, [0, 2]],
  ])('with %s reads anew what that changes', async (_, options, expected) => {
    const folder = unitOf(2);
    await run(folder);
    expect(await run(folder, options)).toEqual(expected);
    await expectUndisturbed(folder, options);
  });

  it('reads the patient anew of whom a log says something else', async () => {
    const folder = unitOf(2, 'exports: exports\nreport: morning\ncare: care.csv\n');
    const care = (hour: number): void =>
      writeFileSync(
        join(folder, 'care.csv'),
        `Patient,Start,Event\n1,2031-02-11 20:00,turn\n2,2031-02-11 ${hour}:00,turn\n`,
      );
    care(21);
    expect(await run(folder)).toEqual([2, 0]);
    care(22);
    expect(await run(folder)).toEqual([1, 1]);
    await expectUndisturbed(folder);
  });

  it('reads the patient anew whose alarms are others', async () => {
    const folder = unitOf(2, 'exports: exports\nreport: morning\nalarms: alarms.csv\n');
    const alarms = (acknowledged: string): void =>
      writeFileSync(
        join(folder, 'alarms.csv'),
        `Patient,Onset,Alarm,Acknowledged\n1,2031-02-11 20:00,ICP high,\n2,2031-02-11 21:00,ICP high,${acknowledged}\n`,
      );
    alarms('');
    expect(await run(folder)).toEqual([2, 0]);
    expect(await run(folder)).toEqual([0, 2]);
    alarms('2031-02-11 21:01');
    expect(await run(folder)).toEqual([1, 1]);
    await expectUndisturbed(folder);
  });

  it('reads the file alone that came late', async () => {
    const folder = unitOf(2);
    await run(folder);
    copyFileSync(join(folder, 'exports/1.csv'), join(folder, 'exports/late.csv'));
    expect(await run(folder)).toEqual([1, 2]);
    await expectUndisturbed(folder);
  });

  it('forgets what it does not need, and keeps its hands off other files', async () => {
    const folder = unitOf(3);
    await run(folder);
    writeFileSync(join(store(folder), 'notes.txt'), 'mine');
    rmSync(join(folder, 'exports/3.csv'));
    expect(await run(folder)).toEqual([0, 2]);
    expect(storedIn(folder).map((name) => name.replace(/^\w{64}/, ''))).toEqual([
      '.result',
      '.result',
      'notes.txt',
    ]);
  });

  it('takes all patients of a column from the store, and none where one of them changed', async () => {
    const folder = unitOf(1, 'exports: exports\nreport: morning\npatient: {column: Bed}\n');
    const file = join(folder, 'exports/1.csv');
    const rows = readFileSync(file, 'utf8').trimEnd().split('\n');
    const both = ['Bed', 'A', 'B'].flatMap((bed, i) =>
      (i === 0 ? rows.slice(0, 1) : rows.slice(1)).map((row) => `${row},${bed}`),
    );
    writeFileSync(file, `${both.join('\n')}\n`);
    expect([await run(folder), await run(folder)]).toEqual([
      [2, 0],
      [0, 2],
    ]);
    writeFileSync(file, `${both.slice(0, -1).join('\n')}\n`);
    expect(await run(folder)).toEqual([2, 0]);
  });

  it('stores also who is reported again over the night of the unit, and leaves no page of the first', async () => {
    const folder = unitOf(2);
    const file = join(folder, 'exports/2.csv');
    const earlier = readFileSync(file, 'utf8').replaceAll('2031-02-11', '2031-02-09');
    writeFileSync(file, earlier.replaceAll('2031-02-12', '2031-02-10'));
    const events: RunEvent[] = [];
    const options: RunOptions = { pages: true, onEvent: (event) => events.push(event) };
    expect(await run(folder, options)).toEqual([2, 0]);
    expect(storedIn(folder)).toHaveLength(3);
    expect(readdirSync(out(folder))).not.toContain('patient-2.html');
    expect(await run(folder, options)).toEqual([0, 2]);
    await expectUndisturbed(folder, { pages: true });
    expect(events.map(({ event, ...of }) => ('patient' in of ? `${event} ${of.patient}` : event))).toEqual([
      ...['start', 'done 1', 'done 2', 'start', 'done 2', 'written'],
      ...['start', 'reused 1', 'reused 2', 'start', 'reused 2', 'written'],
    ]);
  });

  it('reads everybody anew where that is asked for, and replaces what was stored', async () => {
    const folder = unitOf(2);
    await run(folder);
    for (const name of storedIn(folder)) truncateSync(join(store(folder), name), 40);
    expect(await run(folder, { fresh: true })).toEqual([2, 0]);
    expect(await run(folder)).toEqual([0, 2]);
  });
});

describe('a stored result', () => {
  it.each<[string, (bytes: Buffer) => Buffer]>([
    ['empty', () => Buffer.alloc(0)],
    ['cut off in its first line', (bytes) => bytes.subarray(0, 30)],
    ['cut off', (bytes) => bytes.subarray(0, bytes.length - 1)],
    ['longer than it was', (bytes) => Buffer.concat([bytes, Buffer.from('x')])],
    [
      'changed in one bit',
      (bytes) => bytes.map((byte, i) => (i === bytes.length >> 1 ? byte ^ 1 : byte)) as Buffer,
    ],
    ['something else', () => Buffer.from('{"parts": []}')],
  ])('that is %s is noticed, and done again', async (_, damage) => {
    const folder = unitOf(2);
    await run(folder);
    const [path] = storedIn(folder).map((name) => join(store(folder), name));
    const whole = readFileSync(path);
    writeFileSync(path, damage(whole));
    expect(await run(folder)).toEqual([1, 1]);
    // The bytes may differ: V8 writes a string in one of two ways, and means the same.
    const key = basename(path, '.result');
    expect(decodeEntry(key, readFileSync(path))).toEqual(decodeEntry(key, whole));
    expect(decodeEntry(key, whole)?.parts).toHaveLength(1);
    await expectUndisturbed(folder);
  });

  it('of one patient is not taken for that of another', async () => {
    const folder = unitOf(2);
    await run(folder);
    const [a, b] = storedIn(folder).map((name) => join(store(folder), name));
    copyFileSync(a, b);
    expect(await run(folder)).toEqual([1, 1]);
    await expectUndisturbed(folder);
  });

  it('is there for its owner only', async () => {
    const folder = unitOf(1);
    await run(folder);
    chmodSync(store(folder), 0o755);
    await run(folder, { fresh: true });
    expect(statSync(store(folder)).mode & 0o777).toBe(0o700);
    for (const name of storedIn(folder)) expect(statSync(join(store(folder), name)).mode & 0o777).toBe(0o600);
  });

  it('of a file that nobody could read to its end is none', async () => {
    const folder = unitOf(1);
    writeFileSync(join(folder, 'exports/empty.csv'), '');
    writeFileSync(join(folder, 'exports/no-icp.csv'), 'Time,ICP (mmHg)\nnever,1\n');
    expect(await run(folder)).toEqual([3, 0]);
    // What is wrong with rows that were read stays wrong.
    expect(await run(folder)).toEqual([1, 2]);
    await expectUndisturbed(folder);
  });

  it('half written by a killed run is cleared away, and by a live one is left', async () => {
    const folder = unitOf(1);
    await run(folder);
    const [name] = storedIn(folder);
    const half = ['9999999-0a1b', `${process.pid}-0a1b`].map((token) =>
      name.replace('result', `${token}.part`),
    );
    for (const one of half) writeFileSync(join(store(folder), one), 'half');
    await run(folder);
    expect(storedIn(folder)).toEqual([half[1], name].sort());
  });
});

describe('the store', () => {
  const warningsOf = async (folder: string): Promise<readonly string[]> =>
    (await runPipeline(join(folder, 'unit.yaml'), { out: out(folder), threads: 1, pages: false })).warnings;

  it('is left out, with a word, where something else stands in its place', async () => {
    const folder = unitOf(1);
    writeFileSync(store(folder), 'mine');
    expect(await warningsOf(folder)).toEqual([
      `Not all could be kept for the next run in ${store(folder)} (.report.store is no folder); it will read these anew.`,
    ]);
    expect([existsSync(out(folder)), readFileSync(store(folder), 'utf8')]).toEqual([true, 'mine']);
  });

  it("is left out, with a word, where it is somebody else's", async () => {
    const folder = unitOf(1);
    mkdirSync(store(folder));
    // Only root can give a folder away, but anyone can be somebody else to it.
    const { uid } = statSync(store(folder));
    const somebody = vi.spyOn(process as { getuid: () => number }, 'getuid').mockReturnValue(uid + 1);
    onTestFinished(() => somebody.mockRestore());
    expect(await warningsOf(folder)).toEqual([
      expect.stringContaining('.report.store belongs to somebody else'),
    ]);
    expect(storedIn(folder)).toEqual([]);
  });

  it('of a run that comes to nothing keeps what was read', async () => {
    const folder = unitOf(2);
    writeFileSync(join(folder, 'exports/3.csv'), '');
    await expect(run(folder, { strict: true })).rejects.toThrow(/^--strict: 3\.csv/);
    expect([existsSync(out(folder)), storedIn(folder).length]).toEqual([false, 2]);
    writeFileSync(
      join(folder, 'exports/3.csv'),
      nightCsv((minute) => 12 + (minute % 2)),
    );
    expect(await run(folder, { strict: true })).toEqual([1, 2]);
  });

  it('is gone where there is nothing to keep', async () => {
    const folder = unitOf(0);
    writeFileSync(join(folder, 'exports.csv'), '');
    await run(folder, { data: [join(folder, 'exports.csv')] });
    expect(existsSync(store(folder))).toBe(false);
  });
});
