import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { expect } from 'vitest';
import { findExports } from '../../src/ingest/find-exports.js';
import { groupByPatient } from '../../src/ingest/group-files.js';
import { type Ingested, ingestGroup } from '../../src/ingest/ingest.js';
import { rowsIn } from '../../src/ingest/rows/set-aside.js';
import { DEFAULT_MISSING, type IngestSettings } from '../../src/ingest/settings.js';
import type { ChannelKind } from '../../src/recording/channel.js';
import { Problem } from '../../src/recording/problem.js';
import { rawSignal } from '../../src/recording/recording.js';

/** Options of a property test: the same cases on each run. */
export const seeded = (numRuns: number): { numRuns: number; seed: number } => ({ numRuns, seed: 20_310_211 });

/** File contents by name below a folder. */
export type Files = Readonly<Record<string, string | Uint8Array>>;

export const settingsWith = (more: Partial<IngestSettings> = {}): IngestSettings => ({
  zone: 'UTC',
  columns: {},
  missing: DEFAULT_MISSING,
  ...more,
});

/** Runs `work` in a new folder that holds the files, and removes the folder. */
export async function inFolder<T>(files: Files, work: (folder: string) => Promise<T>): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), 'ingest-'));
  try {
    for (const [name, content] of Object.entries(files)) {
      await mkdir(dirname(join(folder, name)), { recursive: true });
      await writeFile(join(folder, name), content);
    }
    return await work(folder);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

/** Reads all files as a run does: finds, groups, reads; the outcomes in the order of the groups. */
export const ingestFiles = (files: Files, more: Partial<IngestSettings> = {}): Promise<Ingested[]> =>
  inFolder(files, async (folder) => {
    const settings = settingsWith(more);
    const { groups } = groupByPatient(await findExports(['.'], folder), settings);
    return (await Promise.all(groups.map((group) => ingestGroup(group, settings)))).flat();
  });

/** Reads one file, `a.csv`, of one patient, `a`. */
export async function ingestOne(
  content: string | Uint8Array,
  more: Partial<IngestSettings> = {},
): Promise<Ingested> {
  const [outcome, ...others] = await ingestFiles({ 'a.csv': content }, more);
  expect(others).toEqual([]);
  return outcome;
}

/** Why the only patient of a file failed. */
export const whyFailed = async (
  content: string | Uint8Array,
  more: Partial<IngestSettings> = {},
): Promise<string | null> => (await ingestOne(content, more)).problem;

/** The message of the problem that `work` ends in; fails where it ends otherwise. */
export async function problemOf(work: () => unknown): Promise<string> {
  try {
    await work();
  } catch (error) {
    if (error instanceof Problem) return error.message;
    throw error;
  }
  throw new Error('a Problem was expected, and none came');
}

/** The samples of a channel as [ISO time in UTC, value]. */
export function samplesOf({ recording, problem }: Ingested, kind: ChannelKind): [string, number][] {
  if (!recording) throw new Error(`the patient failed, so there are no samples: ${problem}`);
  const { times, values } = rawSignal(recording, kind);
  return [...times].map((t, i) => [new Date(t).toISOString(), values[i]]);
}

/** Only the values of a channel. */
export const valuesOf = (outcome: Ingested, kind: ChannelKind): number[] =>
  samplesOf(outcome, kind).map(([, value]) => value);

/** How many rows an outcome says were set aside. */
export const rowsSetAside = ({ setAside }: Ingested): number => rowsIn(setAside);

/** What was set aside, one line an entry: `a.csv:4 repeat: same time as line 3, and nothing new`. */
export const asideOf = ({ setAside }: Ingested): string[] =>
  setAside.map(({ file, line, kind, reason }) => `${file}:${line} ${kind}: ${reason}`);

/** Checks rows read = rows used + rows set aside, where each row that is used holds an ICP value of its own. */
export function expectAccount(outcome: Ingested, expected: { read: number; used: number }): void {
  const used = outcome.recording ? valuesOf(outcome, 'icp').length : 0;
  expect({ read: outcome.rowsRead, used, aside: rowsSetAside(outcome) }, outcome.problem ?? 'read').toEqual({
    ...expected,
    aside: expected.read - expected.used,
  });
}

/** `2031-02-11 02:10:00`, the digits that UTC shows. */
export const wall = (ms: number): string => new Date(ms).toISOString().slice(0, 19).replace('T', ' ');

/** An arbitrary start for made-up rows. */
export const START = Date.UTC(2031, 1, 11, 2);

/** Rows `time,icp` at a fixed interval, each ended by \n; the values run from 10 to 14. */
export const icpRows = (count: number, start = START, intervalMs = 1000): string =>
  Array.from({ length: count }, (_, i) => `${wall(start + i * intervalMs)},${10 + (i % 5)}\n`).join('');

/** The header that fits `icpRows`. */
export const ICP_HEADER = 'Time,ICP (mmHg)\n';
