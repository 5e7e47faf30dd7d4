import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cistern, MAIN, newFolder, ROOT } from '../support/cistern.js';
import { differences } from '../support/compare-folders.js';
import { type Slurm, startSlurm, until } from '../support/slurm.js';
import { storedIn, unitOf } from '../support/unit.js';

const PATIENTS = 40;
const SHARDS = 8;
const SCRIPT = join(ROOT, 'pipelines/cluster/slurm.sbatch');

describe('a job array of Slurm over shards, and a merge behind it', () => {
  let slurm: Slurm;
  const folder = unitOf(PATIENTS);
  const out = join(folder, 'report');

  /** Submits the array and the merge with one command, and gives their numbers. */
  function submit(more: Record<string, string> = {}): { shards: string; merge: string } {
    const said = execFileSync('bash', [SCRIPT], {
      cwd: folder,
      encoding: 'utf8',
      env: {
        ...slurm.env,
        PIPELINE: join(folder, 'unit.yaml'),
        OUT: out,
        SHARDS: String(SHARDS),
        CISTERN: `${process.execPath} ${MAIN}`,
        THREADS: '1',
        MERGE_THREADS: '1',
        MEMORY: '1G',
        MERGE_MEMORY: '1G',
        TIME: '00:10:00',
        MERGE_TIME: '00:10:00',
        PARTITION: 'day',
        ...more,
      },
    });
    const [, shards, merge] = /job (\d+), .*Merge: job (\d+)/.exec(said) ?? [];
    return { shards, merge };
  }

  /** States of a job and its tasks. */
  const statesOf = (job: string): string[] =>
    slurm
      .command('scontrol', 'show', 'job', job, '-o')
      .trim()
      .split('\n')
      .map((line) => /JobState=(\w+)/.exec(line)?.[1] ?? '');
  const isOver = (job: string): boolean =>
    statesOf(job).every((state) => ['COMPLETED', 'FAILED', 'CANCELLED', 'TIMEOUT'].includes(state));
  const logOf = (name: string): string => readFileSync(join(folder, `cistern-${name}.log`), 'utf8');

  beforeAll(async () => {
    slurm = await startSlurm();
  });
  afterAll(() => slurm?.stop());

  it('leaves no shards behind where the merge cannot be submitted', () => {
    expect(() => submit({ MERGE_MEMORY: '900G' })).toThrow(
      /The merge could not be submitted, and so the shards, job \d+, were cancelled\. Mend what Slurm says above/,
    );
    expect(slurm.command('squeue', '-h', '-t', 'PD,R').trim()).toBe('');
  });

  it('gives the bytes of a local run, though a node dies in the middle and a shard has to be run again', async () => {
    const { shards, merge } = submit();
    // One task never gets to run: its shard will be lacking.
    slurm.command('scancel', `${shards}_8`);
    const runsOnSecond = (): boolean =>
      slurm.command('squeue', '-h', '-w', 'n2', '-t', 'R', '-o', '%i').trim() !== '';
    await until(
      'a stored patient, and a shard on the second node',
      () => storedIn(folder).length > 0 && runsOnSecond(),
    );
    expect(slurm.cutPower('n2')).toBeGreaterThan(0);
    const before = storedIn(folder).filter((name) => name.endsWith('.result')).length;
    expect(before).toBeLessThan(PATIENTS);

    await until('the end of the merge', () => isOver(merge), 200);
    expect(statesOf(shards).filter((state) => state === 'COMPLETED')).toHaveLength(SHARDS - 1);
    expect(slurm.command('scontrol', 'show', 'job', shards, '-o')).toMatch(/Requeue=1 Restarts=[1-9]/);
    expect(statesOf(merge)).toEqual(['FAILED']);
    expect(logOf('merge')).toContain(
      `merge: 5 of 40 patients are not in the store. Shard 8 of 8 has not come to an end, and lacks 5 patients`,
    );
    expect(logOf('merge')).toContain(`--shard 8/8 --out ${out}`);
    expect(existsSync(out)).toBe(false);

    const again = submit({ ONLY: '8' });
    await until('the end of the second merge', () => isOver(again.merge), 120);
    expect(statesOf(again.merge)).toEqual(['COMPLETED']);
    expect(logOf('merge')).toContain('40 patients: 0 read anew, 40 as they were stored.');

    const local = join(newFolder(), 'local');
    expect(cistern(['run', 'unit.yaml', '--out', local], { cwd: folder }).status).toBe(0);
    expect(differences(out, local, join(newFolder(), 'different'))).toEqual([]);
  }, 400_000);
});
