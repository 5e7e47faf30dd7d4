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
const KILLS = Number(process.env.CISTERN_KILLS ?? 25);
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

/** When a run is to be killed: so many ms after its start, or when so many new entries stand in the store. */
type Instant = { afterMs: number } | { newEntries: number };

/** A run in a process of its own that is killed at an instant; false where it had ended by then. */
function isKilled(args: readonly string[], cwd: string, at: Instant): Promise<boolean> {
  const before = new Set(storedIn(cwd));
  const added = (): number =>
    storedIn(cwd).filter((name) => name.endsWith('.result') && !before.has(name)).length;
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [MAIN, ...args], { cwd, stdio: 'ignore' });
    const kill = (): boolean => child.kill('SIGKILL');
    const timer =
      'afterMs' in at
        ? setTimeout(kill, at.afterMs)
        : setInterval(() => added() >= at.newEntries && kill(), 1);
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
      const isEnough = (): boolean => met.kills > KILLS / 2 && met.halfStored > 0 && met.reused > 0;
      // A machine that is busy in one moment and idle in the next lets some runs end before their instant.
      for (let n = 0; n < KILLS || (n < 3 * KILLS && !isEnough()); n++) {
        const variant = variants[variantOf(n)];
        const { args, whole, ms } = variant;
        // Now and then the run that carries on is killed too.
        for (let times = share() < 0.25 ? 2 : 1; times > 0; times--) {
          const before = new Set(storedIn(folder));
          // By the clock in turn with by what is done: no clock tells where a busy machine is in the work, and what is
          // done cannot tell one instant of reading, drawing or swapping in from another. In the first fifth of the time
          // nothing but loading happens.
          const at: Instant =
            n % 2 === 0
              ? { afterMs: ms * variant.pace * (0.2 + 0.9 * share()) }
              : { newEntries: 1 + Math.floor(3 * share()) };
          if (!(await isKilled(args, folder, at))) {
            // The machine had other work when the whole run was timed.
            if ('afterMs' in at) variant.pace *= 0.8;
            continue;
          }
          met.kills++;
          const added = wholeEntries(folder).filter((name) => !before.has(name)).length;
          if (added > 0 && added < PATIENTS) met.halfStored++;
          expect(
            !existsSync(out) || isOneOf(),
            `killed at ${JSON.stringify(at)}, kill ${n}: a half report`,
          ).toBe(true);
        }
        const { status, stdout, stderr } = cistern(args, { cwd: folder });
        expect([status, stderr]).toEqual([0, '']);
        if (/ [1-5] as (they were|it was) stored/.test(stdout)) met.reused++;
        expect(differences(out, whole, keep), `kill ${n}`).toEqual([]);
        expect(readdirSync(folder).sort()).toEqual(['.report.store', 'exports', 'report', 'unit.yaml']);
        expect([wholeEntries(folder).length, storedIn(folder).length]).toEqual([PATIENTS, PATIENTS]);
      }
      // Otherwise the instants did not fall into the work, and nothing was tested.
      expect(isEnough(), JSON.stringify(met)).toBe(true);
    },
    60_000 + KILLS * 40_000,
  );
});
