import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { expect, it } from 'vitest';
import { decodeEntry } from '../../src/pipeline/stored-entry.js';
import { cistern, MAIN, newFolder } from '../support/cistern.js';
import { differences } from '../support/compare-folders.js';
import { storedIn, unitOf } from '../support/unit.js';

const PATIENTS = 12;
const SHARDS = ['1/2', '2/2'];
/** Figures alone, in one thread: pages would take most of the time. */
const PLAIN = ['--out', 'report', '--no-pages', '--threads', '1'];
const NO_LEFTOVER = /^(?:[0-9a-f]{64}\.result|shard-[12]-of-2\.json)$/;
/** So many kills have to meet half stored work, and one to leave a merge without patients; a soak takes some dozens. */
const HALF_STORED = Number(process.env.CISTERN_SHARD_KILLS ?? 2);
const MOST_ROUNDS = 5 * HALF_STORED;

interface Process {
  readonly share: string;
  readonly child: ChildProcess;
  readonly isKilled: Promise<boolean>;
}

function started(cwd: string, share: string): Process {
  const args = [MAIN, 'run', 'unit.yaml', '--shard', share, ...PLAIN];
  const child = spawn(process.execPath, args, { cwd, stdio: 'ignore' });
  const isKilled = new Promise<boolean>((resolve, reject) => {
    child.once('error', reject);
    child.once('exit', (code, signal) => {
      if (code === 0 || signal === 'SIGKILL') resolve(signal === 'SIGKILL');
      else reject(new Error(`shard ${share} ended with ${code ?? signal}`));
    });
  });
  return { share, child, isKilled };
}

const entriesIn = (folder: string): string[] => storedIn(folder).filter((name) => name.endsWith('.result'));

function expectWholeEntries(folder: string): void {
  for (const name of entriesIn(folder)) {
    const bytes = readFileSync(join(folder, '.report.store', name));
    expect(decodeEntry(name.slice(0, 64), bytes)?.parts, `${name} is torn`).toHaveLength(1);
  }
}

/** Kills the victims once so many entries are stored; false where all processes had ended before. */
async function killedAt(
  folder: string,
  entries: number,
  all: readonly Process[],
  victims: readonly Process[],
): Promise<boolean> {
  const isWorking = ({ child }: Process): boolean => child.exitCode === null && child.signalCode === null;
  while (entriesIn(folder).length < entries) {
    if (!all.some(isWorking)) return false;
    await new Promise((resolve) => setTimeout(resolve, 1));
  }
  return victims.filter(({ child }) => child.kill('SIGKILL')).length > 0;
}

it(
  'shards that run twice at once and are killed leave whole entries, and those run again merge to the local report',
  async () => {
    const folder = unitOf(PATIENTS);
    const [local, out] = [join(newFolder(), 'local'), join(folder, 'report')];
    const merge = () => cistern(['merge', 'unit.yaml', ...PLAIN], { cwd: folder });
    expect(cistern(['run', 'unit.yaml', ...PLAIN], { cwd: folder }).status).toBe(0);
    renameSync(out, local);
    const random = xoroshiro128plus(20310211);
    const met = { halfStored: 0, lacking: 0 };
    const isEnough = (): boolean => met.halfStored >= HALF_STORED && met.lacking > 0;
    for (let round = 0; round < MOST_ROUNDS && !isEnough(); round++) {
      rmSync(out, { recursive: true, force: true });
      rmSync(join(folder, '.report.store'), { recursive: true, force: true });
      const all = [...SHARDS, ...SHARDS].map((share) => started(folder, share));
      // Both processes of a shard in turn with one, whose twin carries on, and sometimes one of the other shard too.
      const chosen = uniformInt(random, 0, 1);
      const both = round % 2 === 0;
      const others = [chosen + 2, 1 - chosen].filter((_, i) =>
        i === 0 ? both : uniformInt(random, 0, 1) === 0,
      );
      const victims = [chosen, ...others].map((place) => all[place]);
      const isMet = await killedAt(folder, uniformInt(random, 1, 4), all, victims);
      const stored = entriesIn(folder).length;
      const killed = await Promise.all(all.map(({ isKilled }) => isKilled));
      if (isMet && stored > 0 && stored < PATIENTS) met.halfStored++;
      expectWholeEntries(folder);
      const lacking = PATIENTS - entriesIn(folder).length;
      if (lacking > 0) {
        met.lacking++;
        const { status, stderr } = merge();
        expect([status, existsSync(out)]).toEqual([2, false]);
        expect(stderr).toContain(
          `merge: ${lacking} of 12 patients ${lacking === 1 ? 'is' : 'are'} not in the store`,
        );
      }
      const again = new Set(all.filter((_, i) => killed[i]).map(({ share }) => share));
      await Promise.all([...again].map((share) => started(folder, share).isKilled));
      expectWholeEntries(folder);
      expect(storedIn(folder).filter((name) => !NO_LEFTOVER.test(name))).toEqual([]);
      expect(storedIn(folder)).toHaveLength(PATIENTS + SHARDS.length);
      const { status, stdout } = merge();
      expect([status, stdout.includes('12 patients: 0 read anew, 12 as they were stored.')]).toEqual([
        0,
        true,
      ]);
      expect(differences(out, local, join(newFolder(), 'different')), `round ${round}`).toEqual([]);
      expect([storedIn(folder).length, entriesIn(folder).length]).toEqual([PATIENTS, PATIENTS]);
    }
    // Otherwise no kill fell into the work, and nothing was tested.
    expect(isEnough(), JSON.stringify(met)).toBe(true);
  },
  60_000 + HALF_STORED * 120_000,
);
