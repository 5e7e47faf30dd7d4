import { open, rm, stat } from 'node:fs/promises';
import { Problem } from '../../recording/problem.js';
import type { ZoneClock } from '../../recording/zone.js';
import type { PatientTimes } from '../../report/deidentify/shared-times.js';
import { type Cell, toCsv } from '../../report/tables/csv.js';
import { systemWords } from '../system-words.js';

/** Who is who: the only thing by which a shared set can be led back. */
export interface KeyRow {
  readonly code: string;
  readonly patient: string;
  /** Null where nothing says when monitoring began. */
  readonly times: PatientTimes | null;
}

const HEADER = ['code', 'patient', 'monitoring_from', 'shared_zero', 'shift_days'] as const;

const rowOf = ({ code, patient, times }: KeyRow, clock: ZoneClock): Cell[] => [
  code,
  patient,
  times && clock.format(times.startUtcMs),
  // Where times are elapsed, the instant that is 0.
  times?.mode === 'elapsed' ? clock.format(-times.addMs) : null,
  times?.shiftDays,
];

/** The key table as CSV, by code. */
export const keyTable = (rows: readonly KeyRow[], clock: ZoneClock): string =>
  toCsv(
    HEADER,
    [...rows].sort((a, b) => (a.code < b.code ? -1 : 1)).map((row) => rowOf(row, clock)),
  );

/** A key file that is held for this run. */
export interface HeldKey {
  write(rows: readonly KeyRow[], clock: ZoneClock): Promise<void>;
  /** Takes the file back, where the set was not written. */
  discard(): Promise<void>;
}

/** True where a file holds nothing, as a key does until its set is ready. */
async function isEmpty(path: string): Promise<boolean> {
  const entry = await stat(path).catch(() => null);
  return entry?.isFile() === true && entry.size === 0;
}

/**
 * Makes the key file, for its owner alone, before anything is read: one that is there already is never written over.
 *
 * @throws Problem where it exists or cannot be made
 */
export async function holdKey(path: string): Promise<HeldKey> {
  try {
    const made = await open(path, 'wx', 0o600);
    await made.close();
  } catch (error) {
    const { code = String(error) } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST' && (await isEmpty(path))) {
      throw new Problem(
        `the key file ${path} exists already and is empty: a run that was broken off has left it, or one is at work now`,
        'Where none is, remove it: no set was written with it. Or give --key another name.',
      );
    }
    if (code === 'EEXIST') {
      throw new Problem(
        `the key file ${path} exists already`,
        'Give --key another name: a key is never written over, since the codes of an earlier set could not be resolved any more.',
      );
    }
    throw new Problem(
      `the key file ${path} cannot be written (${code === 'ENOENT' ? 'its folder is not there' : systemWords(code)})`,
      'Give --key another place.',
    );
  }
  return {
    write: async (rows, clock) => {
      const file = await open(path, 'w', 0o600);
      try {
        await file.writeFile(keyTable(rows, clock));
        // The set is worth nothing to its owner without the key: it is on the disk before the set takes its place.
        await file.sync();
      } finally {
        await file.close();
      }
    },
    discard: () => rm(path, { force: true }),
  };
}
