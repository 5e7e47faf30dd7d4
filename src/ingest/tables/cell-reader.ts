import { Problem, shorten } from '../../recording/problem.js';
import { channelUnit, unitNotGiven } from '../columns/channel-unit.js';
import { unitNamed } from '../columns/units.js';
import { CORRECT_CELL } from '../rows/correct-cell.js';
import type { MissingMarks, NumberReader } from '../rows/number-reader.js';
import { CellFault } from './cell-fault.js';
import type { Choices, ColumnSpec, Happened, Moment, MomentOrMonths } from './describe.js';
import type { FoundColumn } from './name-columns.js';
import type { TableColumnChoice } from './table-settings.js';
import type { Reference, TimeCells } from './time-cells.js';
import { yesOrNo } from './yes-or-no.js';

/** What a cell may hold. */
export type CellValue = string | number | boolean | Moment | Happened | MomentOrMonths;

/** Reads the cells of one column, trimmed; null for a missing one. */
export type CellReader = (
  text: string,
  line: number,
  after: Reference | null,
) => CellValue | null | CellFault;

const MONTHS = /^(\d+(?:[.,]\d+)?) ?(?:months?|mths?|mo|m)$/i;
/** A column whose header counts in months holds no dates. */
const countsMonths = ({ header }: FoundColumn): boolean => /\bmonths?\b|\bmo\b/i.test(header);

/** Cells of a column of times that hold something else, and so say nothing of how its times are written. */
export function isOtherThanTime({ type }: ColumnSpec, text: string): boolean {
  if (type === 'yesNoOrDate') return yesOrNo(text) !== null;
  return type === 'dateOrMonths' && MONTHS.test(text);
}

/** True where the column holds times, so that it has to be planned for. */
export const holdsTimes = (column: FoundColumn): boolean => {
  const { type } = column.spec;
  return (
    type === 'time' ||
    type === 'date' ||
    type === 'yesNoOrDate' ||
    (type === 'dateOrMonths' && !countsMonths(column))
  );
};

type Spec<T extends ColumnSpec['type']> = Extract<ColumnSpec, { readonly type: T }>;

/** How the values of a column of numbers become those that are kept, with its unit for the page. */
function unitOf(
  { header, unit, unitBelow }: FoundColumn,
  { quantity, units }: Spec<'number'>,
  choice: TableColumnChoice,
): { convert: (value: number) => number; unit: string | null } {
  if (quantity) {
    const found = channelUnit(quantity, header, {
      declared: choice.unit,
      inHeader: unit,
      inCell: unitBelow,
      cellIs: 'row of units',
    });
    if (!found) throw unitNotGiven(quantity, header);
    const { factor, offset } = found.conversion;
    return {
      convert: (value) => (factor === 1 && offset === 0 ? value : value * factor + offset),
      unit: found.unit,
    };
  }
  const written = choice.unit ?? unit ?? unitBelow;
  if (!units || written === null) return { convert: (value) => value, unit: null };
  const fitting = units.find(([names]) => names(written.trim().toLowerCase()));
  if (!fitting) {
    throw new Problem(
      `the unit "${shorten(written)}" is not known`,
      'Write a usual one into the header, or declare it in the pipeline file under columns.',
      { column: header },
    );
  }
  const [, factor] = fitting;
  return { convert: (value) => value * factor, unit: written };
}

/** The unit of a column as a page shows it; null where it has none. */
export function unitShown(column: FoundColumn, choice: TableColumnChoice): string | null {
  if (column.spec.type === 'number') return unitOf(column, column.spec, choice).unit;
  return unitNamed(choice.unit ?? column.unit ?? column.unitBelow ?? '');
}

function numberCells(
  spec: Spec<'number'>,
  numbers: NumberReader,
  convert: (value: number) => number,
): (text: string, line: number) => number | CellFault {
  const { low, high, whole, fix, openGroup } = spec;
  return (text, line) => {
    // In a column of another unit such words would mean another number.
    if (openGroup?.words.test(text) && convert(openGroup.value) === openGroup.value) return openGroup.value;
    const read = numbers.read(text, line);
    if (!Number.isFinite(read)) {
      return new CellFault(`"${shorten(text)}" ${numbers.why(text)}`, fix ?? CORRECT_CELL);
    }
    const value = convert(read);
    if (value < low || value > high) {
      const converted = value === read ? '' : ` is ${Number(value.toPrecision(4))} once converted, and`;
      return new CellFault(
        `${shorten(text)}${converted} lies outside ${low} to ${high}`,
        fix ?? CORRECT_CELL,
      );
    }
    if (whole && !Number.isInteger(value)) {
      return new CellFault(`${shorten(text)} is no whole number`, CORRECT_CELL);
    }
    return value;
  };
}

/** Lower case, single spaces. */
const spaced = (text: string): string => text.toLowerCase().replace(/\s+/g, ' ').trim();

function choiceCells(
  choices: Choices,
  { key, header }: FoundColumn,
  { words }: TableColumnChoice,
): (text: string) => string | null {
  const own = new Map(Object.entries(words ?? {}).map(([word, value]) => [spaced(word), value]));
  const strange = [...own.values()].find((value) => !Object.hasOwn(choices, value));
  if (strange !== undefined) {
    throw new Problem(
      `"${shorten(strange)}" is none of ${Object.keys(choices).join(', ')}, which columns: {${key}: {words: ...}} may name`,
      'Correct the pipeline file.',
      { column: header },
    );
  }
  const all = Object.entries(choices);
  return (text) => {
    const plain = spaced(text);
    return own.get(plain) ?? all.find(([, pattern]) => pattern.test(plain))?.[0] ?? null;
  };
}

/** What reading a column depends on beside its description. */
export interface ReaderNeeds {
  readonly numbers: NumberReader;
  readonly isMissing: MissingMarks;
  readonly choice: TableColumnChoice;
  /** For columns that hold times. */
  readonly times: TimeCells | null;
}

/**
 * Makes the reader of a column's cells.
 *
 * @throws Problem where its unit is unknown or has to be given and is not
 */
export function cellReader(
  column: FoundColumn,
  { numbers, isMissing, choice, times }: ReaderNeeds,
): CellReader {
  const { spec } = column;
  const orMissing =
    (read: CellReader): CellReader =>
    (text, line, after) =>
      isMissing(text) ? null : read(text, line, after);
  const date: CellReader = (text, line, after) => times?.moment(text, line, true, after) ?? null;
  switch (spec.type) {
    case 'text':
      return orMissing((text) => text);
    case 'number':
      return orMissing(numberCells(spec, numbers, unitOf(column, spec, choice).convert));
    case 'choice': {
      const choices = typeof spec.choices === 'function' ? spec.choices(column.name) : spec.choices;
      const read = choiceCells(choices, column, choice);
      const fix = `Correct the cell, or say what it means in the pipeline file, as columns: {${column.key}: {words: {"...": ${Object.keys(choices)[0]}}}}.`;
      const unknown = (text: string): CellFault =>
        new CellFault(`"${shorten(text)}" is none of ${Object.keys(choices).join(', ')}`, fix);
      // Words such as "none" are a choice in some columns, and mean "no value" in all others.
      return (text) => (text === '' ? null : (read(text) ?? (isMissing(text) ? null : unknown(text))));
    }
    case 'yesNo':
      return orMissing(
        (text) => yesOrNo(text) ?? new CellFault(`"${shorten(text)}" is neither yes nor no`, CORRECT_CELL),
      );
    case 'time':
      return orMissing((text, line, after) => times?.moment(text, line, false, after) ?? null);
    case 'date':
      return orMissing(date);
    case 'yesNoOrDate':
      return orMissing((text, line, after) => {
        const happened = yesOrNo(text);
        if (happened !== null) return { happened, at: null };
        const at = date(text, line, after);
        return at instanceof CellFault || at === null ? at : { happened: true, at: at as Moment };
      });
    case 'dateOrMonths': {
      const counted: Spec<'number'> = { ...spec, type: 'number', low: 0, high: 600 };
      const count = numberCells(counted, numbers, (value) => value);
      return orMissing((text, line, after) => {
        const match = MONTHS.exec(text);
        if (!match && !countsMonths(column)) {
          const read = date(text, line, after);
          return read instanceof CellFault && read.kind === 'unreadable'
            ? new CellFault(read.what, `${read.fix} Months after the injury are written as 6 months.`)
            : read;
        }
        const months = count(match?.[1] ?? text, line);
        return months instanceof CellFault ? months : { months };
      });
    }
  }
}
