import { distance } from 'fastest-levenshtein';
import { Problem, shorten } from '../../recording/problem.js';
import type { LeftAlone } from '../columns/columns.js';
import { findColumn, listed, refuseSharedColumns } from '../columns/find-column.js';
import { headerWords } from '../columns/header-words.js';
import { unitNamed } from '../columns/units.js';
import type { ColumnSpec, Description } from './describe.js';
import { choiceOf, type TableSettings } from './table-settings.js';

/** The columns of a kind of table, and which it cannot do without. */
export interface TableShape {
  /** As in "an alarm log". */
  readonly title: string;
  readonly columns: Description;
  /** Groups of keys: a column of each group has to be there. */
  readonly requires: readonly (readonly string[])[];
}

/** A column that was found. */
export interface FoundColumn {
  readonly key: string;
  readonly spec: ColumnSpec;
  /** Counts from 0. */
  readonly index: number;
  /** Of a time: the column of the date where it stands apart. */
  readonly date: number | null;
  readonly header: string;
  /** Lower case, single spaces, without the unit. */
  readonly name: string;
  /** In the header, as written. */
  readonly unit: string | null;
  /** In the row of units under the header, as written. */
  readonly unitBelow: string | null;
  /** What decided, in plain words. */
  readonly why: string;
}

interface HeaderName {
  readonly name: string;
  readonly unit: string | null;
}

const fitsAny = (name: string, { columns }: TableShape): boolean =>
  Object.values(columns).some(({ names }) => names.some((test) => test(name)));

/** Words in brackets belong to the name where they make it one that is known: `GCS (motor)`. */
function nameOf(header: string, shape: TableShape): HeaderName {
  const { name, unit } = headerWords(header);
  if (unit === null || unitNamed(unit) !== null) return { name, unit };
  const whole = `${name} ${unit.toLowerCase()}`.replace(/[\s_.,:()[\]-]+/g, ' ').trim();
  return fitsAny(whole, shape) ? { name: whole, unit: null } : { name, unit };
}

/** The keys whose columns a row of cells names. */
export const keysIn = (
  cells: readonly string[],
  shape: TableShape,
  settings: Pick<TableSettings, 'columns'> = {},
): string[] => {
  const names = cells.map((cell) => nameOf(cell, shape).name);
  const texts = new Set(cells.map((cell) => cell.trim()));
  return Object.entries(shape.columns).flatMap(([key, spec]) => {
    const { header, date } = choiceOf(settings, key);
    const isChosen = [header, date].some((chosen) => chosen !== undefined && texts.has(chosen.trim()));
    const dateNames = 'dateNames' in spec ? spec.dateNames : undefined;
    const tests = dateNames ? [...spec.names, dateNames] : spec.names;
    return isChosen || names.some((name) => tests.some((test) => test(name))) ? [key] : [];
  });
};

/** How well a row of cells fits as the header of the table; 100 and more where it must be it. */
export function tableScore(
  cells: readonly string[],
  shape: TableShape,
  settings: Pick<TableSettings, 'columns'> = {},
): number {
  const keys = new Set(keysIn(cells, shape, settings));
  const isHeader = shape.requires.every((group) => group.some((key) => keys.has(key)));
  return isHeader ? 100 + keys.size : keys.size;
}

/** A file's columns by meaning. */
export interface TableColumns {
  readonly found: readonly FoundColumn[];
  readonly leftAlone: readonly LeftAlone[];
}

function refuseUnknownKeys({ columns, title }: TableShape, settings: TableSettings): void {
  const unknown = Object.keys(settings.columns ?? {}).find((key) => !Object.hasOwn(columns, key));
  if (unknown === undefined) return;
  throw new Problem(
    `"${shorten(unknown)}" is no column of ${title}`,
    `Its columns are ${Object.keys(columns).join(', ')}.`,
  );
}

/**
 * Says what each column is, from the pipeline's `columns` first and the header second.
 *
 * @throws Problem where one that is needed is not there, or several could be it
 */
export function findTableColumns(
  headers: readonly string[],
  unitsRow: readonly string[] | null,
  shape: TableShape,
  settings: TableSettings,
): TableColumns {
  refuseUnknownKeys(shape, settings);
  const names = headers.map((header) => nameOf(header, shape));
  const entries = Object.entries(shape.columns);
  const chosen = new Set(
    entries.flatMap(([key]) => {
      const { header, date } = choiceOf(settings, key);
      return [header, date].flatMap((text) => (text === undefined ? [] : [text.trim()]));
    }),
  );
  // A column that the pipeline file gives away is nothing else by its name.
  const isFree = (i: number): boolean => !chosen.has(headers[i]);
  const found = entries.flatMap(([key, spec]): FoundColumn[] => {
    const choice = choiceOf(settings, key);
    const find = (
      header: string | undefined,
      tests: FoundColumn['spec']['names'],
      asKey?: string,
    ): number => {
      if (header !== undefined) return findColumn(headers, spec.title, () => false, header);
      for (const test of tests) {
        const fits = (i: number): boolean => isFree(i) && test(names[i].name);
        const index = findColumn(headers, spec.title, fits, undefined, asKey);
        if (index >= 0) return index;
      }
      return -1;
    };
    const dateNames = 'dateNames' in spec ? spec.dateNames : undefined;
    const index = find(choice.header, spec.names, key);
    const date =
      choice.header !== undefined && choice.date === undefined
        ? -1
        : find(choice.date, dateNames ? [dateNames] : []);
    // A column named only "Date" may hold the time as well.
    const at = index < 0 ? date : index;
    if (at < 0) return [];
    const why = choice.header !== undefined ? 'named in the pipeline file' : 'by its name';
    const { name, unit } = names[at];
    const below = unitsRow?.[at]?.trim();
    return [
      {
        key,
        spec,
        index: at,
        date: index < 0 || date < 0 ? null : date,
        header: headers[at],
        name,
        unit,
        unitBelow: below === undefined || below === '' ? null : below,
        why,
      },
    ];
  });
  refuseMissing(found, shape, headers);
  refuseSharedColumns(
    found.map(({ spec, index }) => [spec.title, index] as const),
    headers,
  );
  const taken = new Set(found.flatMap(({ index, date }) => [index, date]));
  const leftAlone = headers.flatMap((header, i): LeftAlone[] =>
    taken.has(i) || header === '' ? [] : [{ header, why: 'none of the names known here' }],
  );
  refuseMistyped(found, shape, leftAlone);
  return { found, leftAlone };
}

/** Headers that are not read and look like one that a table of this kind often has: what stands there would be lost. */
function refuseMistyped(
  found: readonly FoundColumn[],
  { columns, requires }: TableShape,
  leftAlone: readonly LeftAlone[],
): void {
  const keys = new Set(found.map(({ key }) => key));
  const wanted = requires.flat().filter((key) => !keys.has(key));
  for (const key of wanted) {
    const { example } = columns[key];
    const mistyped = leftAlone.find(({ header }) =>
      looksLike(headerWords(header).name, example.toLowerCase()),
    );
    if (!mistyped) continue;
    throw new Problem(
      `the column "${shorten(mistyped.header)}" is not read, and its name is nearly "${example}"`,
      `Correct the header, or name the column in the pipeline file as columns: {${key}: "${shorten(mistyped.header)}"}.`,
    );
  }
}

/** In a short word one letter may be wrong, missing or doubled, and seldom the first: "Vent" is no "Event". */
const looksLike = (name: string, example: string): boolean =>
  example.length >= 4 && name[0] === example[0] && distance(name, example) <= (example.length > 5 ? 2 : 1);

function refuseMissing(found: readonly FoundColumn[], shape: TableShape, headers: readonly string[]): void {
  const keys = new Set(found.map(({ key }) => key));
  const group = shape.requires.find((one) => !one.some((key) => keys.has(key)));
  if (!group) return;
  const specs = group.map((key) => shape.columns[key]);
  const example = specs.map((spec) => `"${spec.example}"`).join(' or ');
  throw new Problem(
    `there is no column for ${specs.map(({ title }) => title).join(' or ')}`,
    `A header such as ${example} is expected; the columns are ${listed(headers)}. Name it in the pipeline file as columns: {${group[0]}: ...}.`,
  );
}
