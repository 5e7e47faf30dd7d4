import { existsSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Results } from '../../src/report/results-schema.js';
import { type CliOutcome, cistern } from '../support/cistern.js';
import { failWriting, hooked, onOpening } from '../support/hooked.js';
import { storedIn, unitOf } from '../support/unit.js';

/** A run of the built command over a folder's exports, under some fault. */
const run = (folder: string, code: string, ...more: readonly string[]): CliOutcome =>
  cistern(['run', 'unit.yaml', '--out', 'report', '--no-pages', '--threads', '2', ...more], {
    cwd: folder,
    env: code === '' ? {} : hooked(code),
  });

const failedIn = (folder: string): Results['failed'] =>
  JSON.parse(readFileSync(join(folder, 'report/results.json'), 'utf8')).failed;

const WHOLE = ['.report.store', 'exports', 'report', 'unit.yaml'];
const DIES = 'process.exit(7);';
const DIED =
  'the thread that worked on it came to an end (worker exited with code: 7). Run the same command again; where it happens again, tell the developers.';
/** A thread may keep so little that it soon ends itself. */
const OUT_OF_MEMORY = `
const { Worker } = threads;
threads.Worker = class extends Worker {
  constructor(file, options) { super(file, { ...options, resourceLimits: { maxOldGenerationSizeMb: 64 } }); }
};
${onOpening(/2\.csv$/, 'const all = []; for (;;) all.push(Array.from({ length: 1e5 }, (_, i) => [i]));')}`;

describe('a patient fails, the others are reported, and the status is 1', () => {
  it.each([
    [
      'whose file cannot be read',
      onOpening(
        /2\.csv$/,
        "const stream = createReadStream('/dev/null'); stream.destroy(fault('EACCES', 'open')); return stream;",
      ),
      '2.csv: the file cannot be read (EACCES). Look at its permissions, or copy it again.',
    ],
    [
      'whose file breaks off while it is read',
      onOpening(
        /2\.csv$/,
        "const stream = createReadStream(path, ...rest); stream.once('data', () => stream.destroy(fault('EIO', 'read'))); return stream;",
      ),
      '2.csv: the file cannot be read (EIO). Look at its permissions, or copy it again.',
    ],
    ['whose thread dies', onOpening(/2\.csv$/, DIES), `2.csv: ${DIED}`],
    [
      'whose thread uses its memory up',
      OUT_OF_MEMORY,
      '2.csv: the memory that a thread may use was used up. Run again with --threads 1, or give it fewer or shorter files.',
    ],
    [
      'on whom the reading meets a fault of the program',
      onOpening(/2\.csv$/, "throw new TypeError('no such thing');"),
      '2.csv: a fault of the program (no such thing). Tell its developers, with the export if it may leave.',
    ],
  ])('%s', (_, code, why) => {
    const folder = unitOf(4);
    const { status, stdout, stderr } = run(folder, code);
    expect(stderr).toBe(`cistern: patient 2 failed: ${why}\n`);
    expect([status, failedIn(folder).map((one) => [one.id, one.why])]).toEqual([1, [['2', why]]]);
    expect(stdout).toContain('3 patients reported, 0 without data, 1 failed.');
    expect(readdirSync(folder).sort()).toEqual(WHOLE);
    // Once the fault is gone, that patient alone is read.
    const again = run(folder, '');
    expect([again.status, again.stderr]).toEqual([0, '']);
    expect(again.stdout).toContain('4 patients: 1 read anew, 3 as they were stored.');
  });

  it('also where all threads die, again and again', () => {
    const folder = unitOf(5);
    const { status, stdout } = run(folder, onOpening(/\.csv$/, DIES));
    expect([status, failedIn(folder).map(({ id }) => id)]).toEqual([1, ['1', '2', '3', '4', '5']]);
    expect(stdout).toContain('0 patients reported, 0 without data, 5 failed.');
  });

  it('each under its file where a column names the patients', () => {
    const folder = unitOf(1, 'exports: exports\nreport: morning\npatient: {column: Bed}\n');
    const { status } = run(folder, "fs.createReadStream = () => { throw new TypeError('odd'); };");
    const why = '1.csv: a fault of the program (odd). Tell its developers, with the export if it may leave.';
    expect([status, failedIn(folder)]).toEqual([1, [{ id: '1.csv', why, rowsRead: 0 }]]);
  });
});

describe('with --strict', () => {
  it('a thread that dies stops the run, and nothing is written', () => {
    const folder = unitOf(3);
    const { status, stdout, stderr } = run(folder, onOpening(/2\.csv$/, DIES), '--strict');
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toBe(`cistern: --strict: 2.csv: ${DIED} Nothing was written.\n`);
    expect(existsSync(join(folder, 'report'))).toBe(false);
    expect(readdirSync(folder).filter((name) => /\.(new|old)$/.test(name))).toEqual([]);
  });
});

describe('a report that cannot be written is refused', () => {
  it.each([
    ['ENOSPC', 'results.json', 'ENOSPC: the disk is full', 'Make room there'],
    ['EDQUOT', 'run.json', 'EDQUOT: your share of the disk is used up', 'Make room there'],
    ['EIO', 'setaside.csv', 'EIO', 'Look at the folder'],
  ])('with %s at %s, and the old one stays', (code, name, words, fix) => {
    const folder = unitOf(2);
    expect(run(folder, '').status).toBe(0);
    const before = readFileSync(join(folder, 'report/run.json'), 'utf8');
    const { status, stdout, stderr } = run(folder, failWriting(new RegExp(name), code), '--fresh');
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toBe(
      `cistern: the report cannot be written to ${join(folder, 'report')} (${words}). ${fix}, then run again. Nothing was changed there.\n`,
    );
    expect(readFileSync(join(folder, 'report/run.json'), 'utf8')).toBe(before);
    expect(readdirSync(folder).sort()).toEqual(WHOLE);
    // What was read is kept all the same.
    expect(run(folder, '').stdout).toContain('2 patients: 0 read anew, 2 as they were stored.');
  });

  it.each([
    ['EACCES', 'EACCES: you may not write there'],
    ['EROFS', 'EROFS: the disk is read-only'],
  ])('with %s where its folder is made, before anything is read', (code, words) => {
    const folder = unitOf(1);
    const { status, stdout, stderr, progress } = run(
      folder,
      `promises.mkdir = async () => { throw fault('${code}', 'mkdir'); };`,
    );
    expect([status, stdout, progress]).toEqual([2, '', []]);
    expect(stderr).toBe(
      `cistern: the folder ${join(folder, 'report')} cannot be written (${words}). Choose another with --out.\n`,
    );
    expect(readdirSync(folder).sort()).toEqual(['exports', 'unit.yaml']);
  });
});

describe('a store that cannot be written', () => {
  it('costs the next run time, and this one a word', () => {
    const folder = unitOf(2);
    const { status, stderr } = run(folder, failWriting(/2?\.part$/, 'ENOSPC'));
    expect(stderr).toBe(
      `cistern: Not all could be kept for the next run in ${join(folder, '.report.store')} (ENOSPC: the disk is full); it will read these anew.\n`,
    );
    expect([status, storedIn(folder)]).toEqual([0, []]);
    expect(run(folder, '').stdout).toContain('2 patients reported');
    rmSync(folder, { recursive: true });
  });
});
