import { spawn } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { cistern, MAIN, newFolder } from '../support/cistern.js';
import { differences } from '../support/compare-folders.js';
import { storedIn, unitOf } from '../support/unit.js';

const ARGS = ['run', 'unit.yaml', '--no-pages', '--threads', '1'];
const OTHER = ['--set', 'segment.icp.thresholdMmHg=20'];

const started = (cwd: string, more: readonly string[]): Promise<{ status: number | null; stderr: string }> =>
  new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [MAIN, ...ARGS, '--out', 'report', ...more], { cwd });
    let stderr = '';
    child.stderr.on('data', (text) => {
      stderr += text;
    });
    child.once('error', reject);
    child.once('close', (status) => resolve({ status, stderr }));
  });

it('runs at once on one folder each end well, and the report is that of one of them, whole', async () => {
  const folder = unitOf(4);
  const wholes = [[], OTHER].map((more) => {
    const whole = join(newFolder(), 'report');
    expect(cistern([...ARGS, '--out', whole, ...more], { cwd: folder }).status).toBe(0);
    return whole;
  });
  const keep = join(newFolder(), 'different');
  for (let round = 0; round < 3; round++) {
    const ended = await Promise.all(
      [[], OTHER, [], ['--fresh', ...OTHER]].map((more) => started(folder, more)),
    );
    for (const { status, stderr } of ended) expect(status, stderr).toBe(0);
    expect(wholes.some((whole) => differences(join(folder, 'report'), whole, keep).length === 0)).toBe(true);
    expect(readdirSync(folder).sort()).toEqual(['.report.store', 'exports', 'report', 'unit.yaml']);
    expect(storedIn(folder).filter((name) => !name.endsWith('.result'))).toEqual([]);
  }
  // Each forgets what it does not need itself, so that the next may find nothing; it ends well all the same.
  expect((await started(folder, [])).status).toBe(0);
  expect(differences(join(folder, 'report'), wholes[0], keep)).toEqual([]);
  expect(storedIn(folder)).toHaveLength(4);
});
