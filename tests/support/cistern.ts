import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const ROOT = fileURLToPath(new URL('../../', import.meta.url));
/** The built command line. */
export const MAIN = join(ROOT, 'dist/command-line/main.js');

/** What a run of the built command line gave. */
export interface CliOutcome {
  readonly status: number | null;
  readonly stdout: string;
  /** But for the lines of progress. */
  readonly stderr: string;
  /** A line a patient, and one before pages are printed. */
  readonly progress: readonly string[];
}

const PROGRESS = /^cistern: (?:\d+ of \d+, patient |\d+ patients? again, |printing \d+ pages?$).*\n/gm;

/** Parts what a run told while it worked from what it had to say. */
export const partProgress = (stderr: string): Pick<CliOutcome, 'stderr' | 'progress'> => ({
  stderr: stderr.replace(PROGRESS, ''),
  progress: (stderr.match(PROGRESS) ?? []).map((line) => line.trimEnd()),
});

/** Runs the built command line as a process of its own, piped as a script would. */
export function cistern(
  args: readonly string[],
  options: { cwd?: string; env?: Record<string, string> } = {},
): CliOutcome {
  const { status, stdout, stderr } = spawnSync(process.execPath, [MAIN, ...args], {
    cwd: options.cwd ?? ROOT,
    env: { ...process.env, ...options.env },
    encoding: 'utf8',
  });
  return { status, stdout, ...partProgress(stderr) };
}

/** A new empty folder. */
export const newFolder = (): string => mkdtempSync(join(tmpdir(), 'cistern-'));

/** Writes files below a new folder and gives the folder. */
export function folderWith(files: Readonly<Record<string, string | Uint8Array>>): string {
  const folder = newFolder();
  for (const [name, content] of Object.entries(files)) {
    const path = join(folder, name);
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, content);
  }
  return folder;
}

const two = (n: number): string => String(n).padStart(2, '0');

/** A small export: ICP and MAP each minute over one night, 2031-02-11 19:00 to 07:00 local. */
export function nightCsv(
  icpAt: (minute: number) => number | string,
  mapAt: (minute: number) => number | string = () => 85,
): string {
  const rows = Array.from({ length: 721 }, (_, minute) => {
    const hour = 19 + Math.floor(minute / 60);
    const date = hour < 24 ? '2031-02-11' : '2031-02-12';
    return `${date} ${two(hour % 24)}:${two(minute % 60)}:00,${icpAt(minute)},${mapAt(minute)}`;
  });
  return `Time,ICP (mmHg),ABP mean (mmHg)\n${rows.join('\n')}\n`;
}
