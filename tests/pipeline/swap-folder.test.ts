import { spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { swapFolder } from '../../src/pipeline/swap-folder.js';
import { newFolder, ROOT } from '../support/cistern.js';

/** Writes what makes a folder a report, with a word to tell it by. */
function writeReport(folder: string, word: string): void {
  mkdirSync(join(folder, 'tables'), { recursive: true });
  for (const name of ['index.html', 'results.json']) writeFileSync(join(folder, name), word);
}

const wordOf = (folder: string): string => readFileSync(join(folder, 'results.json'), 'utf8');

/** A report with two more inside, each in a folder of its own. */
function reportWithInner(): string {
  const folder = join(newFolder(), 'report');
  writeReport(folder, 'before');
  writeReport(join(folder, 'validation'), 'inner');
  writeReport(join(folder, 'audit'), 'other');
  return folder;
}

/**
 * A run in a process of its own that is killed just before, or just after, it renames something for the nth time.
 *
 * @returns false where it came to its end
 */
function killedRun(folder: string, n: number, when: 'before' | 'after'): boolean {
  const module = pathToFileURL(join(ROOT, 'dist/pipeline/swap-folder.js')).href;
  const script = `
    import fs from 'node:fs/promises';
    import { writeFileSync } from 'node:fs';
    import { syncBuiltinESMExports } from 'node:module';
    const { rename } = fs;
    let left = ${n};
    fs.rename = async (from, to) => {
      left--;
      if (left === 0 && ${when === 'before'}) process.kill(process.pid, 'SIGKILL');
      await rename(from, to);
      if (left === 0) process.kill(process.pid, 'SIGKILL');
    };
    syncBuiltinESMExports();
    const { swapFolder } = await import(${JSON.stringify(module)});
    const swap = await swapFolder(${JSON.stringify(folder)});
    for (const name of ['index.html', 'results.json']) writeFileSync(swap.fresh + '/' + name, 'after');
    await swap.commit();
  `;
  const { signal, status, stderr } = spawnSync(process.execPath, ['--input-type=module', '-e', script], {
    encoding: 'utf8',
  });
  expect(signal === 'SIGKILL' || status === 0, stderr).toBe(true);
  return signal === 'SIGKILL';
}

/** A run that writes a word and ends well. */
async function run(folder: string, word: string): Promise<void> {
  const swap = await swapFolder(folder);
  writeReport(swap.fresh, word);
  await swap.commit();
}

const inside = (folder: string): string[] => readdirSync(folder).sort();
const WHOLE = ['audit', 'index.html', 'results.json', 'tables', 'validation'];

describe('a report that holds others in folders of their own', () => {
  it('is replaced around them', async () => {
    const folder = reportWithInner();
    await run(folder, 'after');
    expect([wordOf(folder), wordOf(join(folder, 'validation')), wordOf(join(folder, 'audit'))]).toEqual([
      'after',
      'inner',
      'other',
    ]);
    expect([inside(folder), inside(dirname(folder))]).toEqual([WHOLE, ['report']]);
  });

  it('is replaced around what is stored for them, and not around what only looks like it', async () => {
    const folder = reportWithInner();
    const name = `${'0a'.repeat(32)}.result`;
    mkdirSync(join(folder, '.audit.store'));
    writeFileSync(join(folder, '.audit.store', name), 'stored');
    await run(folder, 'after');
    expect([wordOf(folder), inside(join(folder, '.audit.store'))]).toEqual(['after', [name]]);
    writeFileSync(join(folder, '.audit.store', 'notes'), 'mine');
    await expect(run(folder, 'again')).rejects.toThrow('holds .audit.store, which no report has written');
  });

  it('never loses one, whatever the rename at which a run is killed', async () => {
    let kills = 0;
    for (const when of ['before', 'after'] as const) {
      for (let n = 1; n < 10; n++) {
        const folder = reportWithInner();
        if (!killedRun(folder, n, when)) break;
        kills++;
        // The next run finishes or takes back what was left, also where it comes to nothing itself.
        await (await swapFolder(folder)).discard();
        expect([inside(folder), inside(dirname(folder))], `${when} ${n}`).toEqual([WHOLE, ['report']]);
        expect([wordOf(join(folder, 'validation')), wordOf(join(folder, 'audit'))]).toEqual([
          'inner',
          'other',
        ]);
        expect(['before', 'after']).toContain(wordOf(folder));
      }
    }
    // The folder aside, two reports moved, the new folder in place: before and after each.
    expect(kills).toBe(8);
  });

  it('never loses one where the run that recovers is killed too', async () => {
    for (const n of [1, 3]) {
      for (let again = 1; again < 10; again++) {
        const folder = reportWithInner();
        expect(killedRun(folder, n, 'after')).toBe(true);
        const wasKilled = killedRun(folder, again, 'after');
        await (await swapFolder(folder)).discard();
        expect([inside(folder), inside(dirname(folder))], `${n} ${again}`).toEqual([WHOLE, ['report']]);
        if (!wasKilled) break;
      }
    }
  });

  it('keeps one that a killed run holds beside a folder that another run wrote meanwhile', async () => {
    for (const ending of ['new', 'old']) {
      const folder = reportWithInner();
      const left = join(dirname(folder), `.report.9999999-0a1b.${ending}`);
      mkdirSync(left);
      renameSync(join(folder, 'validation'), join(left, 'validation'));
      await run(folder, 'after');
      expect([wordOf(folder), wordOf(join(folder, 'validation'))]).toEqual(['after', 'inner']);
    }
  });

  it('takes back what it moved where the new folder cannot be put in place', async () => {
    const folder = reportWithInner();
    const swap = await swapFolder(folder);
    // Its own new folder is gone, so that the last step fails.
    renameSync(swap.fresh, `${swap.fresh}-elsewhere`);
    await expect(swap.commit()).rejects.toThrow(/ENOENT/);
    await swap.discard();
    expect([wordOf(folder), wordOf(join(folder, 'validation'))]).toEqual(['before', 'inner']);
  });

  it('is written by runs at once without losing them', async () => {
    const folder = reportWithInner();
    await Promise.all(['a', 'b', 'c'].map((word) => run(folder, word)));
    expect(inside(folder)).toEqual(WHOLE);
    expect(inside(dirname(folder))).toEqual(['report']);
  });

  it('finishes the half-made swap of one inside', async () => {
    const folder = reportWithInner();
    renameSync(join(folder, 'validation'), join(folder, '.validation.9999999-0a1b.old'));
    await run(folder, 'after');
    expect(inside(folder)).toEqual(WHOLE);
    expect(wordOf(join(folder, 'validation'))).toBe('inner');
  });

  it('waits for nobody: where a run is writing one inside, it is refused', async () => {
    const folder = reportWithInner();
    mkdirSync(join(folder, `.validation.${process.pid}-0a1b.new`));
    await expect(run(folder, 'after')).rejects.toThrow(
      `another run is writing the report ${join(folder, 'validation')}. Wait for it to end: this run would replace the folder around it.`,
    );
    expect(wordOf(folder)).toBe('before');
  });

  it.each([
    ['a folder that is no report', (folder: string) => mkdirSync(join(folder, 'notes'))],
    ['a link to a report', (folder: string) => symlinkSync(join(folder, 'audit'), join(folder, 'notes'))],
    ['a file', (folder: string) => writeFileSync(join(folder, 'notes'), 'mine')],
  ])('is refused where it holds %s', async (_, add) => {
    const folder = reportWithInner();
    add(folder);
    await expect(run(folder, 'after')).rejects.toThrow(
      `the folder ${folder} holds notes, which no report has written. Choose another folder with --out, or move your file away: a report replaces its folder as a whole, but for reports in folders of their own.`,
    );
    expect([wordOf(folder), existsSync(join(folder, 'notes'))]).toEqual(['before', true]);
  });
});

/** Of a process of another machine. */
const ELSEWHERE = '1-0011223344556677';
const HOUR_SECONDS = 3600;

/** Puts the times of a folder and of all in it so many hours back. */
function lastWritten(folder: string, hoursAgo: number): void {
  const time = Date.now() / 1000 - hoursAgo * HOUR_SECONDS;
  for (const name of ['', ...readdirSync(folder)]) utimesSync(join(folder, name), time, time);
}

describe('what a run on another machine has left', () => {
  const leftBeside = (folder: string, ending: 'new' | 'old'): string =>
    join(dirname(folder), `.${basename(folder)}.${ELSEWHERE}.${ending}`);

  it.each([
    ['stays while something was written to it within a day, since the run may go on', 23, true],
    ['goes once nothing was for a day', 25, false],
    ['stays where its times lie ahead', -48, true],
  ])('%s', async (_, hoursAgo, stays) => {
    const folder = reportWithInner();
    const left = leftBeside(folder, 'new');
    writeReport(left, 'half');
    lastWritten(left, hoursAgo);
    await run(folder, 'after');
    expect(inside(dirname(folder))).toEqual([...(stays ? [basename(left)] : []), 'report']);
    expect([wordOf(folder), inside(folder)]).toEqual(['after', WHOLE]);
  });

  it('stays where one of its files is younger than the folder, as a page that is being written', async () => {
    const folder = reportWithInner();
    const left = leftBeside(folder, 'new');
    writeReport(left, 'half');
    lastWritten(left, 25);
    const now = Date.now() / 1000;
    utimesSync(join(left, 'index.html'), now, now);
    await run(folder, 'after');
    expect(existsSync(left)).toBe(true);
  });

  it('is put back into its place with the reports inside, where it died between two renames', async () => {
    const folder = reportWithInner();
    const [fresh, old] = [leftBeside(folder, 'new'), leftBeside(folder, 'old')];
    renameSync(folder, old);
    writeReport(fresh, 'new');
    renameSync(join(old, 'validation'), join(fresh, 'validation'));
    for (const left of [fresh, old]) lastWritten(left, 25);
    await (await swapFolder(folder)).discard();
    expect([wordOf(folder), inside(folder), inside(dirname(folder))]).toEqual(['new', WHOLE, ['report']]);
  });

  it('keeps a report around it from being written for a day, and no longer', async () => {
    const folder = reportWithInner();
    const left = leftBeside(join(folder, 'validation'), 'new');
    mkdirSync(left);
    await expect(run(folder, 'after')).rejects.toThrow('another run is writing the report');
    lastWritten(left, 25);
    await run(folder, 'after');
    expect([wordOf(folder), inside(folder)]).toEqual(['after', WHOLE]);
  });
});
