import { Problem, shorten } from '../../recording/problem.js';

const MOST_LISTED = 20;

/** Headers for a message. */
export function listed(headers: readonly string[]): string {
  const shown = headers.slice(0, MOST_LISTED).map((h) => `"${shorten(h)}"`);
  const more = headers.length - shown.length;
  return `${shown.join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
}

const standsTwice = (header: string): Problem =>
  new Problem(
    `two columns are named "${shorten(header)}"`,
    'They cannot be told apart: rename or remove one in the file.',
  );

/** The column of just this header; -1 where there is none. */
export function columnNamed(headers: readonly string[], header: string): number {
  const index = headers.findIndex((h) => h.trim() === header.trim());
  if (index >= 0 && headers.includes(headers[index], index + 1)) throw standsTwice(header);
  return index;
}

/**
 * The column that is `what`: the one that the pipeline file chose, or the only one that fits.
 *
 * @param key under which the pipeline file chooses it, for the message
 * @returns -1 where none fits
 * @throws Problem where the chosen one is not there, or several fit
 */
export function findColumn(
  headers: readonly string[],
  what: string,
  fits: (index: number) => boolean,
  chosen: string | undefined,
  key?: string,
): number {
  if (chosen !== undefined) {
    const index = columnNamed(headers, chosen);
    if (index >= 0) return index;
    throw new Problem(
      `there is no column "${shorten(chosen)}", which the pipeline file names as ${what}`,
      `The columns are ${listed(headers)}.`,
    );
  }
  const fitting = headers.flatMap((_, i) => (fits(i) ? [i] : []));
  if (fitting.length < 2) return fitting[0] ?? -1;
  if (fitting.every((i) => headers[i] === headers[fitting[0]])) throw standsTwice(headers[fitting[0]]);
  throw new Problem(
    `${listed(fitting.map((i) => headers[i]))} could each be ${what}`,
    key === undefined
      ? 'Name the right one in the pipeline file under columns.'
      : `Name the right one in the pipeline file, as columns: {${key}: "${shorten(headers[fitting[0]])}"}.`,
  );
}

/** @throws Problem where one column is taken for two things, which only the pipeline file can bring about */
export function refuseSharedColumns(
  uses: readonly (readonly [what: string, index: number])[],
  headers: readonly string[],
): void {
  for (const [i, [what, index]] of uses.entries()) {
    const other = uses.slice(0, i).find(([, taken]) => taken === index);
    if (!other) continue;
    throw new Problem(
      `the column "${shorten(headers[index])}" would be both ${other[0]} and ${what}`,
      'Name another one in the pipeline file.',
    );
  }
}
