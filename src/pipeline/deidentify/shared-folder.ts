import { existsSync } from 'node:fs';
import { realpath, stat } from 'node:fs/promises';
import { basename, dirname, join, relative, resolve, sep } from 'node:path';
import { Problem } from '../../recording/problem.js';
import { namesIn } from '../names-in.js';
import { CODE } from './codes.js';

/** The file by which a shared set is known, so that it may be replaced as a whole. */
export const MARKER = 'deidentified-set.json';
export const PATIENTS = 'patients';
const ENDING = '.csv.gz';

/** All that a shared set holds at its top. */
const OURS =
  /^(?:deidentified-set\.json|pipeline\.yaml|README\.txt|report\.html|(?:care|alarms|overrides|targets)\.csv|cohort(?:-\d)?\.csv|patients)$/;

/** What file managers leave behind; it goes with the old set. */
const LEFT_BEHIND = /^(?:\.DS_Store|Thumbs\.db)$/;

const isPatientFile = (name: string): boolean =>
  (name.endsWith(ENDING) && CODE.test(name.slice(0, -ENDING.length))) || LEFT_BEHIND.test(name);

export const patientFile = (code: string): string => `${code}${ENDING}`;

const refusal = (folder: string, name: string, what: string): Problem =>
  new Problem(
    `the folder ${folder} holds ${name}, ${what}`,
    'Choose a new folder with --out: what lies in a shared folder is passed on with it.',
  );

/** What an unknown file in the folder is, as far as that can be told. */
function whatItIs(folder: string, name: string): string {
  const isReport = [folder, join(folder, name)].some((place) => existsSync(join(place, 'results.json')));
  if (isReport) return 'of a report, which names patients';
  return /\.(?:csv|gz|txt)$/i.test(name)
    ? 'which may be an export or a log that names patients'
    : 'which no de-identified set has';
}

/**
 * Refuses a folder that holds anything but an earlier de-identified set.
 *
 * @throws Problem that names what is there
 */
export async function refuseUnshared(folder: string): Promise<void> {
  const entry = await stat(folder).catch(() => null);
  if (entry === null) return;
  if (!entry.isDirectory()) throw new Problem(`${folder} is a file`, 'Give --out a folder.');
  const names = (await namesIn(folder)).filter((name) => !LEFT_BEHIND.test(name));
  if (names.length === 0) return;
  const foreign = names.find((name) => !OURS.test(name));
  if (foreign !== undefined) throw refusal(folder, foreign, whatItIs(folder, foreign));
  if (!names.includes(MARKER))
    throw refusal(folder, names[0], `and no ${MARKER} says that it is a de-identified set`);
  if (!names.includes(PATIENTS)) return;
  const strange = (await namesIn(join(folder, PATIENTS))).find((name) => !isPatientFile(name));
  if (strange !== undefined) {
    throw refusal(folder, `${PATIENTS}/${strange}`, 'which may be an export that names a patient');
  }
}

/** A path with its links followed as far as it exists. */
async function followed(path: string): Promise<string> {
  try {
    return await realpath(path);
  } catch {
    const above = dirname(path);
    return above === path ? path : join(await followed(above), basename(path));
  }
}

/** True where one path is the other, or lies below it. */
function isInside(inner: string, outer: string): boolean {
  const way = relative(outer, inner);
  return way === '' || !(way === '..' || way.startsWith(`..${sep}`) || resolve(way) === way);
}

/** Places that a set is made from and written to. */
export interface SharingPlaces {
  readonly out: string;
  readonly key: string;
  /** Folders that exports are looked for in. */
  readonly exportFolders: readonly string[];
  /** Files of exports and logs. */
  readonly inputs: readonly string[];
}

/**
 * Refuses places by which identified files and the shared set would come together.
 *
 * @throws Problem that says which two
 */
export async function refuseMixed(places: SharingPlaces): Promise<void> {
  const [out, key] = [await followed(places.out), await followed(places.key)];
  if (isInside(key, out)) {
    throw new Problem(
      `the key file ${places.key} lies in the shared folder ${places.out}`,
      'Give --key a place outside: whoever has the key can name the patients.',
    );
  }
  const holding = await Promise.all(places.exportFolders.map(followed));
  if (holding.some((folder) => isInside(out, folder))) {
    throw new Problem(
      `the shared folder ${places.out} lies in the folder of the exports`,
      'Choose a place outside with --out: later runs would read the shared files as exports.',
    );
  }
  if (holding.some((folder) => isInside(key, folder))) {
    throw new Problem(
      `the key file ${places.key} lies in the folder of the exports`,
      'Choose a place outside with --key: later runs would read it as an export.',
    );
  }
  const inputs = [...holding, ...(await Promise.all(places.inputs.map(followed)))];
  const inside = inputs.findIndex((path) => isInside(path, out));
  if (inside >= 0) {
    const given = [...places.exportFolders, ...places.inputs][inside];
    throw new Problem(
      `the shared folder ${places.out} holds ${basename(given)}, which the set is made from`,
      'Choose a new folder with --out: what lies in a shared folder is passed on with it.',
    );
  }
}
