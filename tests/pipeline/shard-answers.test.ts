import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type CliOutcome, cistern, newFolder } from '../support/cistern.js';
import { commandLine } from '../support/command-line.js';
import { differences } from '../support/compare-folders.js';
import { hooked, onOpening } from '../support/hooked.js';
import { storedIn, unitOf } from '../support/unit.js';

/** Figures alone: pages would take most of the time. */
const PLAIN = ['--no-pages', '--threads', '1'];

const shard = (cwd: string, share: string, ...more: readonly string[]): Promise<CliOutcome> =>
  commandLine(['run', 'unit.yaml', '--shard', share, '--out', 'report', ...PLAIN, ...more], cwd);
const merge = (cwd: string): Promise<CliOutcome> =>
  commandLine(['merge', 'unit.yaml', '--out', 'report', ...PLAIN], cwd);
const run = (cwd: string, out = 'report'): Promise<CliOutcome> =>
  commandLine(['run', 'unit.yaml', '--out', out, ...PLAIN], cwd);

describe('a shard tells', () => {
  it('machines what was done, as its last word', async () => {
    const folder = unitOf(4);
    writeFileSync(join(folder, 'exports/1.csv'), 'Time,ICP (mmHg)\nnever,much\n');
    await shard(folder, '1/2');
    const { status, stderr } = await shard(folder, '1/1', '--json-log');
    expect(status).toBe(1);
    const events = stderr
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(events.map(({ event }) => event).sort()).toEqual([
      ...['done', 'failed', 'reused', 'reused', 'start', 'stored'],
    ]);
    const last = events.at(-1);
    expect(last).toMatchObject({
      event: 'stored',
      shard: 1,
      of: 1,
      done: 2,
      reused: 2,
      failed: 1,
      notKept: 0,
    });
    expect(last.folder).toBe(join(folder, '.report.store'));
    expect(last.seconds).toBeGreaterThan(0);
  });

  it('people the command that merges, with the options that were given', async () => {
    const { stdout } = await shard(unitOf(1), '2/2', '--set', 'title=One night');
    expect(stdout).toBe(
      "Shard 2 of 2: 0 of 1 patient stored in .report.store, 0 failed.\nRows read 0.\nOnce all shards are there: cistern merge unit.yaml --out report --set 'title=One night' --no-pages\n",
    );
  });

  it('whom it could not keep since the reason may pass, and the merge reads them itself', async () => {
    const folder = unitOf(3);
    const args = ['run', 'unit.yaml', '--shard', '1/1', '--out', 'report', '--no-pages', '--threads', '2'];
    const env = hooked(onOpening(/2\.csv$/, 'process.exit(7);'));
    const { status, stdout, stderr } = cistern(args, { cwd: folder, env });
    expect(status).toBe(1);
    expect(stdout).toContain('Shard 1 of 1: 2 of 3 patients stored in .report.store, 1 failed.\n');
    expect(stderr).toMatch(
      /^cistern: 2\.csv is not stored, and merge will read it: 2\.csv: the thread that worked on it came to an end/,
    );
    // By the same program as the shard, which is the built one.
    const merged = cistern(['merge', 'unit.yaml', '--out', 'report', ...PLAIN], { cwd: folder });
    expect(merged.stdout).toContain('3 patients: 1 read anew, 2 as they were stored.');
    const local = join(newFolder(), 'local');
    await run(folder, local);
    expect(differences(join(folder, 'report'), local, join(newFolder(), 'different'))).toEqual([]);
  });
});

describe('a shard is refused before it reads anything', () => {
  it.each([
    [
      'where a merge would find a file of somebody in the folder',
      'notes',
      'the folder NOTES holds mine.txt, which no report has written. Choose another folder with --out, or move your file away: a report replaces its folder as a whole, but for reports in folders of their own.',
    ],
    ['where the folder is a file', 'notes/mine.txt', 'NOTES/mine.txt is a file. Give --out a folder.'],
    [
      'where a file stands above the folder',
      'notes/mine.txt/report',
      'the folder NOTES/mine.txt/report cannot be written (ENOTDIR: a file stands where a folder is meant). Choose another with --out.',
    ],
  ])('%s, and a merge likewise, which can stand nowhere else', async (_, out, why) => {
    const folder = unitOf(1);
    mkdirSync(join(folder, 'notes'));
    writeFileSync(join(folder, 'notes/mine.txt'), 'kept');
    const said = `cistern: ${why.replaceAll('NOTES', join(folder, 'notes'))}\n`;
    const mend =
      'A merge has to be given the --out of its shards, since what they have stored lies beside it: mend that, then merge again.\n';
    const merged = said.replace(/Choose another .*\n/, mend);
    for (const [words, told] of [
      [['run', 'unit.yaml', '--shard', '1/1'], said],
      [['merge', 'unit.yaml'], merged],
    ] as const) {
      const { status, stderr, progress } = await commandLine([...words, '--out', out, ...PLAIN], folder);
      expect([status, stderr, progress]).toEqual([2, told, []]);
    }
    expect(readdirSync(folder).sort()).toEqual(['exports', 'notes', 'unit.yaml']);
    expect(readdirSync(join(folder, 'notes'))).toEqual(['mine.txt']);
  });

  it('and not where a report stands there, which stays until the merge', async () => {
    const folder = unitOf(1);
    await run(folder);
    const before = readFileSync(join(folder, 'report/run.json'));
    expect((await shard(folder, '1/1')).status).toBe(0);
    expect(readFileSync(join(folder, 'report/run.json')).equals(before)).toBe(true);
  });
});

describe('a merge that lacks few patients', () => {
  it('of whom no shard has told says how to read them here', async () => {
    const folder = unitOf(3);
    await shard(folder, '1/1');
    await merge(folder);
    writeFileSync(join(folder, 'exports/4.csv'), readFileSync(join(folder, 'exports/1.csv')));
    expect((await merge(folder)).stderr).toBe(
      'cistern: merge: 1 of 4 patients is not in the store ("4"), and no shard has come to its end there. Run all shards, as cistern run unit.yaml --shard 1/8 --out report --no-pages, into the same --out. Where only few are lacking, cistern run unit.yaml --out report --no-pages reads them here, and takes the others as they are stored.\n',
    );
    const { status, stdout } = await run(folder);
    expect([status, stdout.includes('4 patients: 1 read anew, 3 as they were stored.')]).toEqual([0, true]);
  });

  it('says of an export that came after the shards that it may be new', async () => {
    const folder = unitOf(2);
    await shard(folder, '1/1');
    writeFileSync(join(folder, 'exports/3.csv'), readFileSync(join(folder, 'exports/1.csv')));
    expect((await merge(folder)).stderr).toContain(
      'Shard 1 of 1 was done, and these files are new or have changed since, or what was stored of them is damaged, and lacks 1 patient ("3").',
    );
    expect(existsSync(join(folder, 'report'))).toBe(false);
    expect(storedIn(folder)).toHaveLength(3);
  });
});
