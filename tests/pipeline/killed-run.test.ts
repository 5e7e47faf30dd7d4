import { spawn } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, it } from 'vitest';
import { decodeEntry } from '../../src/pipeline/stored-entry.js';
import { cistern, MAIN, newFolder } from '../support/cistern.js';
import { differences } from '../support/compare-folders.js';
import { storedIn, unitOf } from '../support/unit.js';

/** How many times; a soak takes some hundreds. */
const KILLS = Number(process.env.CISTERN_KILLS ?? 12);
const SEED = Number(process.env.CISTERN_KILL_SEED ?? 20310211);
const PATIENTS = 6;

/** In turns, so that each run has everything to do, beside entries and a report of another. */
const VARIANTS = [
  ['--no-pages'],
  ['--no-pages', '--set', 'segment.icp.thresholdMmHg=20'],
  // Drawing takes several times as long, and writes the larger entries.
  [],
];
const variantOf = (n: number): number => (n % 5 === 4 ? 2 : n % 2);

/** A run in a process of its own that is killed after so many ms; false where it had ended by then. */
function isKilled(args: readonly string[], cwd: string, afterMs: number): Promise<boolean> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [MAIN, ...args], { cwd, stdio: 'ignore' });
    const timer = setTimeout(() => child.kill('SIGKILL'), afterMs);
    child.once('error', reject);
    child.once('exit', (code, signal) => {
      clearTimeout(timer);
      if (code === 0 || signal === 'SIGKILL') resolve(signal === 'SIGKILL');
      else reject(new Error(`the run ended with ${code ?? signal}`));
    });
  });
}

/** Names of whole entries; each has to hold what it was stored with. */
function wholeEntries(folder: string): string[] {
  const names = storedIn(folder);
  const whole = names.filter((name) => name.endsWith('.result'));
  for (const name of whole) {
    const bytes = readFileSync(join(folder, '.report.store', name));
    expect(decodeEntry(name.slice(0, 64), bytes)?.parts, `${name} is torn`).toHaveLength(1);
  }
  return whole;
}

describe('a run that is killed', () => {
  it(
    `at ${KILLS} instants leaves whole entries and no half report, and the next ends as an undisturbed one`,
    async () => {
      const folder = unitOf(PATIENTS);
      const keep = join(newFolder(), 'different');
      const variants = VARIANTS.map((more, i) => {
        const args = (out: string): string[] => ['run', 'unit.yaml', '--threads', '2', '--out', out, ...more];
        const started = performance.now();
        const whole = join(newFolder(), `whole-${i}`);
        expect(cistern(args(whole), { cwd: folder }).status).toBe(0);
        return { args: args('report'), whole, ms: performance.now() - started, pace: 1 };
      });
      const random = xoroshiro128plus(SEED);
      const share = (): number => (random.next() >>> 0) / 2 ** 32;
      const out = join(folder, 'report');
      const isOneOf = (): boolean => variants.some(({ whole }) => differences(out, whole, keep).length === 0);
      const met = { kills: 0, halfStored: 0, reused: 0 };
      for (let n = 0; n < KILLS; n++) {
        const variant = variants[variantOf(n)];
        const { args, whole, ms } = variant;
        // Now and then the run that carries on is killed too. In the first fifth nothing but loading happens.
        for (let times = share() < 0.25 ? 2 : 1; times > 0; times--) {
          const before = new Set(storedIn(folder));
          const at = ms * variant.pace * (0.2 + 0.9 * share());
          if (!(await isKilled(args, folder, at))) {
            // The machine had other work when the whole run was timed.
            variant.pace *= 0.8;
            continue;
          }
          met.kills++;
          const added = wholeEntries(folder).filter((name) => !before.has(name)).length;
          if (added > 0 && added < PATIENTS) met.halfStored++;
          expect(!existsSync(out) || isOneOf(), `killed after ${at} ms, kill ${n}: a half report`).toBe(true);
        }
        const { status, stdout, stderr } = cistern(args, { cwd: folder });
        expect([status, stderr]).toEqual([0, '']);
        if (/ [1-5] as (they were|it was) stored/.test(stdout)) met.reused++;
        expect(differences(out, whole, keep), `kill ${n}`).toEqual([]);
        expect(readdirSync(folder).sort()).toEqual(['.report.store', 'exports', 'report', 'unit.yaml']);
        expect([wholeEntries(folder).length, storedIn(folder).length]).toEqual([PATIENTS, PATIENTS]);
      }
      // Otherwise the instants did not fall into the work, and nothing was tested.
      expect(met.kills).toBeGreaterThan(KILLS / 2);
      expect(met.halfStored).toBeGreaterThan(0);
      expect(met.reused).toBeGreaterThan(0);
    },
    30_000 + KILLS * 20_000,
  );
});
