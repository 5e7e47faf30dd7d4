import { spawnSync } from 'node:child_process';
import { chmodSync, cpSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { newFolder, ROOT } from '../support/cistern.js';

/** A folder whose name a shell would take apart, with a copy of the script and programs that note how they were called. */
function prepared(): { folder: string; call: (env: Record<string, string>) => readonly string[][] } {
  const folder = join(newFolder(), "a unit's $folder");
  mkdirSync(join(folder, 'bin'), { recursive: true });
  cpSync(join(ROOT, 'pipelines/cluster/slurm.sbatch'), join(folder, 'slurm.sbatch'));
  const calls = join(folder, 'calls');
  for (const [name, said] of [
    ['sbatch', 'echo "4711;one"'],
    ['cistern', ':'],
  ]) {
    const path = join(folder, 'bin', name);
    writeFileSync(path, `#!/bin/sh\nprintf '%s\\0' ${name} "$@" >>"$CALLS"; echo >>"$CALLS"\n${said}\n`);
    chmodSync(path, 0o755);
  }
  const call = (env: Record<string, string>): readonly string[][] => {
    writeFileSync(calls, '');
    const { status, stderr } = spawnSync('bash', [join(folder, 'slurm.sbatch')], {
      cwd: folder,
      encoding: 'utf8',
      env: { PATH: `${join(folder, 'bin')}:${process.env.PATH}`, CALLS: calls, ...env },
    });
    expect([status, stderr]).toEqual([0, '']);
    const lines = readFileSync(calls, 'utf8').trim().split('\n');
    return lines.map((line) => line.split('\0').slice(0, -1));
  };
  return { folder, call };
}

const UNIT = { PIPELINE: 'my unit.yaml', OUT: "/shared/the unit's" };

describe('the script for Slurm', () => {
  it('submits shards and a merge behind them, and asks for no partition and no account of itself', () => {
    const { folder, call } = prepared();
    const logs = join(folder, 'logs of it');
    const [shards, merge, ...more] = call({ ...UNIT, SHARDS: '3', LOGS: logs });
    expect(more).toEqual([]);
    expect(shards).toContain('--array=1-3');
    expect(shards).toContain(`--output=${logs}/cistern-shard-%a.log`);
    expect(merge).toContain('--dependency=afterany:4711');
    for (const one of [shards, merge]) {
      expect(one.at(-1)).toBe(join(folder, 'slurm.sbatch'));
      expect(one.filter((word) => /partition|account/.test(word))).toEqual([]);
    }
    expect(existsSync(logs)).toBe(true);
  });

  it('hands on partition and account, and the shards that are to be run again', () => {
    const { call } = prepared();
    const [shards, merge] = call({ ...UNIT, PARTITION: 'long', ACCOUNT: 'icu', ONLY: '3, 5' });
    expect(shards).toContain('--array=3,5');
    for (const one of [shards, merge])
      expect(one).toEqual(expect.arrayContaining(['--partition=long', '--account=icu']));
  });

  it('keeps paths whole in the jobs, and parts options at spaces', () => {
    const { call } = prepared();
    const job = { ...UNIT, OPTIONS: '--set title=Unit', SHARDS: '3', SLURM_ARRAY_TASK_ID: '2' };
    expect(call({ ...job, CISTERN_ROLE: 'shard' })).toEqual([
      // biome-ignore format: one command a line
      ['cistern', 'run', 'my unit.yaml', '--shard', '2/3', '--out', "/shared/the unit's", '--threads', '2', '--json-log', '--set', 'title=Unit'],
    ]);
    expect(call({ ...UNIT, CISTERN_ROLE: 'merge' })).toEqual([
      ['cistern', 'merge', 'my unit.yaml', '--out', "/shared/the unit's", '--threads', '2', '--json-log'],
    ]);
  });
});
