import { Problem, shorten } from '../../recording/problem.js';
import type { Columns } from '../columns/columns.js';
import { headerWords } from '../columns/header-words.js';

/** Who was named first, by what names them, over all files that are read as one patient's. */
export type FirstNamed = Map<
  string,
  { readonly value: string; readonly file: string; readonly line: number }
>;

/**
 * Takes note of a name for the patient; two patients on one curve would be a report of nobody.
 *
 * @param key what names them, as `patient id`
 * @throws Problem where another value stood before
 */
export function namePatient(
  first: FirstNamed,
  {
    key,
    column,
    value,
    file,
    line,
  }: { key: string; column: string; value: string; file: string; line: number },
): void {
  const before = first.get(key);
  if (before === undefined) first.set(key, { value, file, line });
  if (before === undefined || before.value === value) return;
  const where = before.file === file ? `line ${before.line}` : `line ${before.line} of ${before.file}`;
  throw new Problem(
    `the rows name more than one: "${shorten(before.value)}" (${where}) and "${shorten(value)}", in what is read as one patient`,
    `Say in the pipeline file patient: {column: ${shorten(column)}}, or tell the files or parts apart.`,
    { line, column },
  );
}

/**
 * Watches the columns that may name a patient while files are read as one patient's.
 *
 * @returns a check of each row, which throws a Problem at the first that names another patient or bed
 */
export function onePatientOnly(
  file: string,
  { identities }: Columns,
  headers: readonly string[],
  first: FirstNamed,
): (cells: readonly string[], line: number) => void {
  const keys = identities.map((index) => headerWords(headers[index]).name);
  return (cells, line) => {
    for (const [i, index] of identities.entries()) {
      const value = cells[index]?.trim() ?? '';
      if (value !== '') namePatient(first, { key: keys[i], column: headers[index], value, file, line });
    }
  };
}
