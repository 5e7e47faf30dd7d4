import { Problem } from '../../recording/problem.js';

/**
 * Why a row was set aside. `cells`: another number of cells than the header; `unreadable`: a cell that is no time or
 * number; `repeat`: it stands already; `conflict`: other values at the same time; `clock`: its times stand twice;
 * `order`: a row of a waveform that is earlier than the one before, or of a table with a time before the one that it follows; `sparse`: a row of a waveform in a second that lacks most
 * of its rows; `unused`: a parameter that is not read; `footer`: a line behind the data; `failed`: the patient failed.
 */
export type SetAsideKind =
  | 'cells'
  | 'unreadable'
  | 'repeat'
  | 'conflict'
  | 'clock'
  | 'order'
  | 'sparse'
  | 'unused'
  | 'footer'
  | 'failed';

/** A row, or rows of one reason, that no figure uses. */
export interface RowSetAside {
  readonly file: string;
  /** Of the first of them. */
  readonly line: number;
  /** How many rows; 1 but for reasons that take rows by the thousand. */
  readonly rows: number;
  readonly kind: SetAsideKind;
  readonly reason: string;
  /** What the person at the keyboard can do. */
  readonly fix?: string | undefined;
  /** The first of them as it came. */
  readonly row?: string | undefined;
}

/** How many rows the entries stand for. */
export const rowsIn = (setAside: readonly RowSetAside[]): number =>
  setAside.reduce((sum, { rows }) => sum + rows, 0);

const BAD: ReadonlySet<SetAsideKind> = new Set(['cells', 'unreadable', 'conflict', 'clock', 'order']);

/** Tells rows that hold what cannot be read or contradicts; sparse ones do in files that hold little else. */
const isBadIn =
  (mostlySparse: ReadonlySet<string>) =>
  ({ kind, file }: RowSetAside): boolean =>
    BAD.has(kind) || (kind === 'sparse' && mostlySparse.has(file));

const NONE: ReadonlySet<string> = new Set();

/**
 * How many rows are bad; a patient of whom most rows are is not reported.
 *
 * @param mostlySparse files of which most rows are sparse
 */
export const badRowsIn = (setAside: readonly RowSetAside[], mostlySparse = NONE): number =>
  rowsIn(setAside.filter(isBadIn(mostlySparse)));

/** Files of which most rows are sparse, from how many rows were read of each. */
export function mostlySparseOf(
  setAside: readonly RowSetAside[],
  files: readonly { readonly file: string; readonly rowsRead: number }[],
): ReadonlySet<string> {
  const sparse = setAside.filter(({ kind }) => kind === 'sparse');
  const most = files.filter(
    ({ file, rowsRead }) => 2 * rowsIn(sparse.filter((entry) => entry.file === file)) > rowsRead,
  );
  return new Set(most.map(({ file }) => file));
}

/** What somebody should know of the bad rows, as a sentence; none where all is well. */
export function badRowsWarning(setAside: readonly RowSetAside[]): string[] {
  // A clock that was set back has a warning of its own.
  const bad = setAside.filter(({ kind }) => BAD.has(kind) && kind !== 'clock');
  if (bad.length === 0) return [];
  const [{ file, line, reason }] = bad;
  const rows = rowsIn(bad);
  return [
    rows === 1
      ? `One row could not be used: ${file}, line ${line}, ${reason}.`
      : `${rows} rows could not be used, the first in ${file}, line ${line}: ${reason}.`,
  ];
}

/** Why a patient fails where most of the rows are bad. */
export function tooManyBad(setAside: readonly RowSetAside[], rowsRead: number, mostlySparse = NONE): Problem {
  const bad = setAside.filter(isBadIn(mostlySparse));
  const [{ file, line, reason, fix }] = bad;
  return new Problem(
    rowsRead === 1
      ? `the only row cannot be used: ${reason}`
      : `${rowsIn(bad)} of ${rowsRead} rows cannot be used, this one first: ${reason}`,
    fix ?? 'Correct the file or export it again.',
    { file, line },
  );
}
