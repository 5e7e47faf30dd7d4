import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** What one fresh process, with its children, took. */
export interface Run {
  readonly wallSeconds: number;
  /** User and system, children included. */
  readonly cpuSeconds: number;
  /** Highest resident memory; of several processes together, with shared pages counted once. */
  readonly peakMb: number;
  /** How many cores' worth of time other processes of the machine used meanwhile. */
  readonly othersCores: number;
  readonly stdout: string;
}

const TIME = '/usr/bin/time';
const CLOCK_TICKS = 100;
const POLL_MS = 200;

/** Seconds that all processes of the machine have used, from the first line of /proc/stat. */
function busySeconds(): number {
  const [user, nice, system, , , irq, softirq] = readFileSync('/proc/stat', 'utf8')
    .split('\n', 1)[0]
    .split(/\s+/)
    .slice(1)
    .map(Number);
  return (user + nice + system + irq + softirq) / CLOCK_TICKS;
}

/** A process and its descendants that live now. */
function familyOf(pid: number): number[] {
  try {
    const children = readdirSync(`/proc/${pid}/task`).flatMap((task) =>
      readFileSync(`/proc/${pid}/task/${task}/children`, 'utf8').trim().split(' ').filter(Boolean),
    );
    return [pid, ...children.flatMap((child) => familyOf(Number(child)))];
  } catch {
    // It has ended since it was listed.
    return [];
  }
}

/** Resident megabytes of several processes, each page that they share split between them; 0 for one process alone. */
function sharedMb(pids: readonly number[]): number {
  // taskset becomes time, and time waits for the program.
  if (pids.length < 3) return 0;
  const kilobytes = pids.map((pid) => {
    try {
      return Number(/^Pss:\s+(\d+)/m.exec(readFileSync(`/proc/${pid}/smaps_rollup`, 'utf8'))?.[1] ?? 0);
    } catch {
      return 0;
    }
  });
  return kilobytes.reduce((sum, kb) => sum + kb, 0) / 1024;
}

function ended(child: ChildProcess): Promise<number | null> {
  return new Promise((resolve, reject) => {
    child.on('error', reject);
    child.on('close', resolve);
  });
}

/**
 * Runs a command on the given cores and measures it.
 *
 * @param cores as taskset takes them, such as `0,1`; null for all
 * @param allowed exit statuses that are no failure
 * @throws Error where the command fails, or GNU time or taskset is missing
 */
export async function measuredRun(
  command: readonly string[],
  cores: string | null,
  allowed: readonly number[] = [0],
): Promise<Run> {
  const folder = mkdtempSync(join(tmpdir(), 'cistern-time-'));
  const account = join(folder, 'time');
  const timed = [TIME, '-o', account, '-f', '%e %U %S %M', ...command];
  const [first, ...rest] = cores === null ? timed : ['taskset', '-c', cores, ...timed];
  const before = busySeconds();
  const child = spawn(first, rest, { stdio: ['ignore', 'pipe', 'pipe'] });
  let stdout = '';
  let stderr = '';
  child.stdout.on('data', (text) => {
    stdout += text;
  });
  child.stderr.on('data', (text) => {
    stderr = (stderr + text).slice(-4000);
  });
  let together = 0;
  const poll = setInterval(() => {
    if (child.pid) together = Math.max(together, sharedMb(familyOf(child.pid)));
  }, POLL_MS);
  try {
    const status = await ended(child);
    if (status === null || !allowed.includes(status)) {
      throw new Error(`${command.join(' ')} ended with status ${status}:\n${stderr}`);
    }
    const used = busySeconds() - before;
    // A line about the exit status may stand before the figures.
    const line = readFileSync(account, 'utf8').trim().split('\n').at(-1) ?? '';
    const [wallSeconds, user, system, peakKb] = line.split(' ').map(Number);
    const cpuSeconds = user + system;
    return {
      wallSeconds,
      cpuSeconds,
      peakMb: Math.max(peakKb / 1024, together),
      othersCores: Math.max(0, (used - cpuSeconds) / wallSeconds),
      stdout,
    };
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
    throw new Error(
      'The benchmark measures with GNU time and taskset, and one of them is not here: run "npm run verify", or install the packages time and util-linux.',
    );
  } finally {
    clearInterval(poll);
    rmSync(folder, { recursive: true });
  }
}
