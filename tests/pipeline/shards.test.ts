import { spawn } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type RunOutcome, runPipeline } from '../../src/pipeline/run-pipeline.js';
import { runShard, type ShardOutcome } from '../../src/pipeline/run-shard.js';
import { cistern, MAIN, newFolder } from '../support/cistern.js';
import { differences } from '../support/compare-folders.js';
import { failWriting, hooked } from '../support/hooked.js';
import { storedIn, unitOf } from '../support/unit.js';

/** Figures alone: pages would take most of the time. */
const PLAIN = ['--no-pages', '--threads', '1'];

const inFolder = (folder: string, set: readonly string[] = []) => ({
  pipeline: join(folder, 'unit.yaml'),
  options: { out: join(folder, 'report'), pages: false, threads: 1, set },
});

function shard(folder: string, share: string, set: readonly string[] = []): Promise<ShardOutcome> {
  const [number, of] = share.split('/').map(Number);
  const { pipeline, options } = inFolder(folder, set);
  return runShard(pipeline, { ...options, shard: { number, of } });
}
function merge(folder: string, set: readonly string[] = []): Promise<RunOutcome> {
  const { pipeline, options } = inFolder(folder, set);
  return runPipeline(pipeline, { ...options, merge: true });
}
/** What a merge says that is refused, without the folder. */
const refusal = (folder: string, set: readonly string[] = []): Promise<string> =>
  merge(folder, set).then(
    () => 'merged',
    (error: Error) => error.message.replaceAll(`${folder}/`, ''),
  );

/** Files in which the report differs from that of a run on one machine, without shards. */
async function unlike(folder: string): Promise<string[]> {
  const out = join(newFolder(), 'local');
  const { pipeline, options } = inFolder(folder);
  await runPipeline(pipeline, { ...options, out });
  return differences(join(folder, 'report'), out, join(newFolder(), 'different'));
}
const recordsIn = (folder: string): string[] => storedIn(folder).filter((name) => name.startsWith('shard-'));

describe('shards and their merge', () => {
  it('give the bytes of a run without them', async () => {
    const folder = unitOf(5);
    for (const share of ['2/3', '1/3', '3/3']) {
      const args = ['run', 'unit.yaml', '--shard', share, '--out', 'report', ...PLAIN];
      const { status, stdout } = cistern(args, { cwd: folder });
      expect(status).toBe(0);
      expect(stdout).toMatch(/^Shard \d of 3: [12] of 5 patients stored in \.report\.store, 0 failed\.\n/);
      expect(existsSync(join(folder, 'report'))).toBe(false);
    }
    expect(recordsIn(folder)).toEqual(['shard-1-of-3.json', 'shard-2-of-3.json', 'shard-3-of-3.json']);
    const { status, stdout } = cistern(['merge', 'unit.yaml', '--out', 'report', ...PLAIN], { cwd: folder });
    expect([status, stdout.includes('5 patients: 0 read anew, 5 as they were stored.')]).toEqual([0, true]);
    expect(await unlike(folder)).toEqual([]);
    // What shards said of themselves has served; what they stored serves the next run.
    expect(recordsIn(folder)).toEqual([]);
    expect(storedIn(folder)).toHaveLength(5);
  });

  it('give it also where a patient fails, and where the nights of patients differ', async () => {
    const folder = unitOf(3);
    writeFileSync(join(folder, 'exports/2.csv'), 'Time,ICP (mmHg)\nnever,much\n');
    const other = readFileSync(join(folder, 'exports/3.csv'), 'utf8').replaceAll('2031-02-1', '2031-03-1');
    writeFileSync(join(folder, 'exports/3.csv'), other);
    const done = [await shard(folder, '1/2'), await shard(folder, '2/2')];
    expect(done.flatMap(({ failed }) => failed.map(({ id }) => id))).toEqual(['2']);
    expect((await merge(folder)).unit.failed).toHaveLength(1);
    expect(await unlike(folder)).toEqual([]);
  });

  it('may run twice at once, and leave a whole store', async () => {
    const folder = unitOf(4);
    const once = (): Promise<number | null> =>
      new Promise((resolve) => {
        const args = [MAIN, 'run', 'unit.yaml', '--shard', '1/1', '--out', 'report', ...PLAIN, '--fresh'];
        spawn(process.execPath, args, { cwd: folder, stdio: 'ignore' }).once('exit', resolve);
      });
    expect(await Promise.all([once(), once(), once()])).toEqual([0, 0, 0]);
    expect(storedIn(folder).filter((name) => name.endsWith('.part'))).toEqual([]);
    expect(storedIn(folder).filter((name) => name.endsWith('.result'))).toHaveLength(4);
    const { stdout } = cistern(['merge', 'unit.yaml', '--out', 'report', ...PLAIN], { cwd: folder });
    expect(stdout).toContain('4 patients: 0 read anew, 4 as they were stored.');
    expect(await unlike(folder)).toEqual([]);
  });

  it('leave alone what a shard on another machine is writing, which a merge clears away', async () => {
    const folder = unitOf(2);
    await shard(folder, '1/1');
    const elsewhere = join(folder, '.report.store', `${'a'.repeat(64)}.1-0011223344556677.part`);
    writeFileSync(elsewhere, 'half');
    await shard(folder, '1/1');
    expect(existsSync(elsewhere)).toBe(true);
    await merge(folder);
    expect(existsSync(elsewhere)).toBe(false);
  });

  it('make the folder in which the report will stand', async () => {
    const folder = unitOf(1);
    const args = ['unit.yaml', '--out', 'shared/reports/report', ...PLAIN];
    expect(cistern(['run', ...args, '--shard', '1/1'], { cwd: folder }).status).toBe(0);
    expect(cistern(['merge', ...args], { cwd: folder }).status).toBe(0);
  });

  it('store also where a merge that came too early has removed the empty store', async () => {
    const folder = unitOf(1);
    // The store is opened by then, and nothing stands in it.
    const early = `
const { writeFile, rmdir } = promises;
let isGone = false;
promises.writeFile = async (path, ...rest) => {
  if (!isGone && /\\.part$/.test(String(path))) { isGone = true; await rmdir(String(path).replace(/[^/]*$/, '')); }
  return writeFile(path, ...rest);
};`;
    const args = ['run', 'unit.yaml', '--shard', '1/1', '--out', 'report', ...PLAIN];
    const { status, stderr } = cistern(args, { cwd: folder, env: hooked(early) });
    expect([status, stderr]).toEqual([0, '']);
    const { stdout } = cistern(['merge', 'unit.yaml', '--out', 'report', ...PLAIN], { cwd: folder });
    expect(stdout).toContain('1 patient: 0 read anew, 1 as it was stored.');
  });

  it('trust files that nobody wrote to, and compare those that were touched', async () => {
    const folder = unitOf(2);
    await shard(folder, '1/1');
    utimesSync(join(folder, 'exports/1.csv'), 1_900_000_000, 1_900_000_000);
    expect((await merge(folder)).patients).toEqual({ done: 0, reused: 2 });
  });
});

describe('a merge that lacks patients', () => {
  it('says that no shard has come to its end', async () => {
    expect(await refusal(unitOf(2))).toBe(
      'merge: 2 of 2 patients are not in the store ("1" and "2"), and no shard has come to its end there. Run all shards, as cistern run unit.yaml --shard 1/8 --out report --no-pages, into the same --out.',
    );
  });

  it('says which shard lacks whom, why, and what to run', async () => {
    const folder = unitOf(4);
    await shard(folder, '1/3');
    await shard(folder, '3/3', ['title=Another one']);
    expect(await refusal(folder)).toBe(
      'merge: 2 of 4 patients are not in the store. Shard 2 of 3 has not come to an end, and lacks 1 patient ("2"). Shard 3 of 3 was run on another pipeline file, other options or other logs than this merge, and lacks 1 patient ("3"). Run cistern run unit.yaml --shard 2/3 --out report --no-pages and cistern run unit.yaml --shard 3/3 --out report --no-pages; then merge again.',
    );
    expect(readdirSync(folder).filter((name) => /\.(new|old)$/.test(name))).toEqual([]);
  });

  it('asks first how many shards there were with its own options, also where a trial with others had more', async () => {
    const folder = unitOf(3);
    for (const share of ['1/3', '2/3', '3/3']) await shard(folder, share, ['title=A trial']);
    await shard(folder, '1/2');
    expect(await refusal(folder)).toBe(
      'merge: 1 of 3 patients is not in the store. Shard 2 of 2 has not come to an end, and lacks 1 patient ("2"). Run cistern run unit.yaml --shard 2/2 --out report --no-pages; then merge again.',
    );
  });

  it('says so of shards that another program has run', async () => {
    const folder = unitOf(2);
    await shard(folder, '1/1');
    const file = join(folder, '.report.store/shard-1-of-1.json');
    const record = JSON.parse(readFileSync(file, 'utf8'));
    writeFileSync(file, JSON.stringify({ ...record, program: 'another', version: '0.0.9', node: 'v20.1.0' }));
    for (const name of storedIn(folder).filter((one) => one.endsWith('.result')))
      rmSync(join(folder, '.report.store', name));
    expect(await refusal(folder)).toContain(
      'Shard 1 of 1 was run by another program (version 0.0.9 on Node v20.1.0) than this merge, and lacks 2 patients ("1" and "2"). Run cistern run unit.yaml --shard 1/1 --out report --no-pages; then merge again.',
    );
  });

  it('says so of exports that have changed since', async () => {
    const folder = unitOf(2);
    await shard(folder, '1/1');
    const file = join(folder, 'exports/2.csv');
    writeFileSync(file, `${readFileSync(file, 'utf8')}2031-02-12 07:01:00,14,85\n`);
    expect(await refusal(folder)).toContain(
      'merge: 1 of 2 patients is not in the store. Shard 1 of 1 was done, and these files are new or have changed since, or what was stored of them is damaged, and lacks 1 patient ("2").',
    );
  });

  it('says what to do where the store cannot be used', async () => {
    const folder = unitOf(1);
    writeFileSync(join(folder, '.report.store'), 'no folder');
    expect(await refusal(folder)).toBe(
      'the store .report.store cannot be used (.report.store is no folder). Shards store what they read there, and merge takes it from there: look at the folder, run the shards as the same user, and merge again.',
    );
  });

  it('quotes what a shell would take apart', async () => {
    expect(await refusal(unitOf(1), ["title=A night's report"])).toContain(
      `--set 'title=A night'\\''s report'`,
    );
  });
});

describe('a shard', () => {
  it.each([
    ['4/3', 'There is no share 4 of 3: they are 1/3 to 3/3.'],
    ['1/1000000', 'The number behind the slash has to be from 1 to 100000.'],
    ['1.5/2', 'A share as 3/8 is expected: the third of eight.'],
    ['three', 'A share as 3/8 is expected: the third of eight.'],
  ])('%s is refused', (share, why) => {
    const { status, stderr } = cistern(['run', 'demo', '--shard', share]);
    expect(status).toBe(2);
    expect(stderr).toContain(why);
  });

  it('prints nothing and is not strict, since it writes no report', () => {
    const { status, stderr } = cistern(['run', 'demo', '--shard', '1/2', '--pdf']);
    expect([status, stderr]).toEqual([
      2,
      'cistern: --pdf is about the report, and a shard writes none. Give it to cistern merge.\n',
    ]);
  });

  it('whose disk is full says what to run, and keeps what is stored', async () => {
    const folder = unitOf(3);
    const args = ['run', 'unit.yaml', '--shard', '1/1', '--out', 'report', ...PLAIN];
    const { status, stdout, stderr } = cistern(args, {
      cwd: folder,
      env: hooked(
        `let parts = 0;\n${failWriting(/\.part$/, 'ENOSPC').replace('if (', 'if (parts++ > 1 && ')}`,
      ),
    });
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toBe(
      `cistern: not all of this share could be stored in ${join(folder, '.report.store')} (ENOSPC: the disk is full). What is stored stays. Mend that, then run: cistern run unit.yaml --shard 1/1 --out report --no-pages\n`,
    );
    expect(recordsIn(folder)).toEqual([]);
    expect(storedIn(folder).length).toBeGreaterThan(0);
    await shard(folder, '1/1');
    await merge(folder);
    expect(await unlike(folder)).toEqual([]);
  });
});
