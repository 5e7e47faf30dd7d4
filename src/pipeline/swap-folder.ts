import { existsSync } from 'node:fs';
import { mkdir, realpath, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { Problem } from '../recording/problem.js';
import { carryReports, holdsReports, isReport, swappingPart } from './carried.js';
import { areGivenUp } from './given-up.js';
import { hasCode, namesIn } from './names-in.js';
import { isElsewhere, isLive, newToken } from './process-token.js';
import { isStore } from './result-store.js';
import { systemWords } from './system-words.js';

/** What a run writes at the top of its folder; anything else there, but for reports in folders of their own, is somebody's. */
const OURS =
  /^(index\.(?:html|pdf)|patient-.+\.(?:html|pdf)|handover\.txt|results\.json|run\.json|key\.csv|tables|\.DS_Store|Thumbs\.db)$/;

/** Every run writes beside the folder under a name of its own, so that two at once do not meet. */
const beside = (folder: string, token: string, ending: string): string =>
  join(dirname(folder), `.${basename(folder)}.${token}.${ending}`);

/** Tokens of runs that ended without tidying up; a token starts with the process number. */
async function deadTokens(folder: string): Promise<string[]> {
  const parts = (await namesIn(dirname(folder))).map(swappingPart);
  const tokens = parts.flatMap((part) => (part?.name === basename(folder) ? [part.token] : []));
  const dead: string[] = [];
  for (const token of new Set(tokens)) {
    const both = [beside(folder, token, 'new'), beside(folder, token, 'old')];
    const isDead = isElsewhere(token)
      ? await areGivenUp(both, beside(folder, newToken(), 'new'))
      : !isLive(token);
    if (isDead) dead.push(token);
  }
  return dead;
}

/**
 * Finishes or takes back what a killed run left: the old folder is only moved aside when the new one is complete. The
 * reports inside stand in the old folder, the new one or the place itself; nothing is removed before they are in place.
 */
async function recover(folder: string): Promise<void> {
  for (const token of await deadTokens(folder)) {
    const [fresh, old] = [beside(folder, token, 'new'), beside(folder, token, 'old')];
    const isBegun = existsSync(old) || (await holdsReports(fresh));
    if (isBegun && !existsSync(folder)) {
      const whole = existsSync(fresh) ? fresh : old;
      if (whole === fresh) await carryReports(old, fresh, 'to');
      // Another run may finish the same swap at the same time.
      await rename(whole, folder).catch((error) => {
        if (!hasCode(error, 'ENOENT', 'ENOTEMPTY', 'EEXIST')) throw error;
      });
    }
    if (existsSync(folder)) for (const left of [old, fresh]) await carryReports(left, folder, 'to');
    await rm(fresh, { recursive: true, force: true });
    await rm(old, { recursive: true, force: true });
  }
}

/** @throws Problem where a file stands in the place; false where nothing does */
async function isFolderThere(folder: string): Promise<boolean> {
  const entry = await stat(folder).catch((error) => {
    if (!hasCode(error, 'ENOENT')) throw error;
    return null;
  });
  if (entry?.isDirectory() === false) throw new Problem(`${folder} is a file`, 'Give --out a folder.');
  return entry !== null;
}

/** Names in a folder that no report has written, and those of reports that are half swapped. */
async function* foreignIn(folder: string): AsyncGenerator<string> {
  for (const name of await namesIn(folder)) {
    const path = join(folder, name);
    // What is gone again, another run has carried into its own folder.
    if (OURS.test(name) || (await isReport(path)) || (await isStore(path)) || !existsSync(path)) continue;
    yield name;
  }
}

const foreignProblem = (folder: string, name: string): Problem =>
  new Problem(
    `the folder ${folder} holds ${name}, which no report has written`,
    'Choose another folder with --out, or move your file away: a report replaces its folder as a whole, but for reports in folders of their own.',
  );

async function refuseForeign(folder: string): Promise<void> {
  if (!(await isFolderThere(folder))) return;
  await recoverInside(folder);
  for await (const name of foreignIn(folder)) {
    const part = swappingPart(name);
    if (part) {
      throw new Problem(
        `another run is writing the report ${join(folder, part.name)}`,
        'Wait for it to end: this run would replace the folder around it.',
      );
    }
    throw foreignProblem(folder, name);
  }
}

/** Finishes what killed runs left of the reports inside a folder. */
async function recoverInside(folder: string): Promise<void> {
  const names = (await namesIn(folder)).flatMap((name) => swappingPart(name)?.name ?? []);
  for (const name of new Set(names)) await recover(join(folder, name));
}

/** A folder that is written beside its place and swapped in whole. */
export interface FolderSwap {
  /** The place, links followed. */
  readonly folder: string;
  /** Where to write. */
  readonly fresh: string;
  /** Puts the new folder into its place. */
  commit(): Promise<void>;
  /** Takes everything back that was not committed. */
  discard(): Promise<void>;
}

/** What a folder may hold that is replaced, and the folder that the new one has from the start. */
export interface FolderKind {
  /** Throws a Problem where the folder holds something else. */
  readonly refuse: (folder: string) => Promise<void>;
  readonly inner: string;
}

const REPORT_FOLDER: FolderKind = { refuse: refuseForeign, inner: 'tables' };

/** Where a report folder lies: a link stays a link, and what it leads to is replaced. */
export const placeOf = (folder: string): Promise<string> =>
  realpath(folder).catch((error) => {
    if (!hasCode(error, 'ENOENT')) throw error;
    return folder;
  });

/** An error of the system where a folder was to be written; a Problem as it is. */
const unwritable = (error: unknown, folder: string): Problem =>
  error instanceof Problem
    ? error
    : new Problem(
        `the folder ${folder} cannot be written (${systemWords((error as NodeJS.ErrnoException).code ?? String(error))})`,
        'Choose another with --out.',
      );

/**
 * Where a report folder lies that is written later, links followed. What would be refused then is refused now, before hours
 * of work are stored beside it; nothing is changed there.
 *
 * @throws Problem where the place holds something that no report has written, or cannot be looked at
 */
export async function reportPlace(given: string): Promise<string> {
  try {
    const folder = await placeOf(given);
    if (!(await isFolderThere(folder))) return folder;
    for await (const name of foreignIn(folder)) {
      if (!swappingPart(name)) throw foreignProblem(folder, name);
    }
    return folder;
  } catch (error) {
    throw unwritable(error, given);
  }
}

/**
 * Starts to replace a folder; a run that finds a half-made swap finishes it first.
 *
 * @throws Problem where the folder holds something that no report has written, or cannot be written
 */
export async function swapFolder(given: string, kind: FolderKind = REPORT_FOLDER): Promise<FolderSwap> {
  let folder = given;
  const token = newToken();
  try {
    await recover(folder);
    folder = await placeOf(folder);
    await kind.refuse(folder);
    await recover(folder);
    await mkdir(dirname(folder), { recursive: true });
    // One by one: made at once, a disk that is read-only would be told of as a folder that is not there.
    await mkdir(beside(folder, token, 'new'));
    await mkdir(join(beside(folder, token, 'new'), kind.inner));
  } catch (error) {
    // A full disk takes the one folder and not the one in it.
    await rm(beside(folder, token, 'new'), { recursive: true, force: true }).catch(() => {});
    throw unwritable(error, folder);
  }
  const [fresh, old] = [beside(folder, token, 'new'), beside(folder, token, 'old')];
  return {
    folder,
    fresh,
    commit: () => putInPlace(fresh, folder, old),
    discard: () => takeBack(fresh, folder, old),
  };
}

/** Where putting in place failed half way, the old folder goes back to its place, with the reports that it held. */
async function takeBack(fresh: string, folder: string, old: string): Promise<void> {
  if (existsSync(old) && !existsSync(folder)) await rename(old, folder);
  if (existsSync(folder)) for (const left of [old, fresh]) await carryReports(left, folder, 'to');
  await rm(fresh, { recursive: true, force: true });
  await rm(old, { recursive: true, force: true });
}

/** Another run may put its folder into the same place in between: then that one is moved aside in turn. */
async function putInPlace(fresh: string, folder: string, old: string): Promise<void> {
  const TRIES = 20;
  for (let n = 1; ; n++) {
    await rename(folder, old).catch((error) => {
      if (!hasCode(error, 'ENOENT')) throw error;
    });
    await carryReports(old, fresh, 'from');
    try {
      await rename(fresh, folder);
      break;
    } catch (error) {
      if (n === TRIES || !hasCode(error, 'ENOTEMPTY', 'EEXIST', 'EPERM')) throw error;
    }
    await rm(old, { recursive: true, force: true });
  }
  await rm(old, { recursive: true, force: true });
}
