import { decimalsOf, parseDecimal } from './parse-number.js';

/** A decimal mark and the line on which a file first used it. */
interface DecimalMark {
  readonly mark: '.' | ',';
  readonly line: number;
}

/** Reads the numbers of one file, which has one decimal mark throughout. */
export class NumberReader {
  /** Null until a number with a mark was seen. */
  decimal: DecimalMark | null = null;

  /** The value of a cell; NaN where it is no number in this file. */
  read(text: string, line: number): number {
    const value = parseDecimal(text);
    if (!Number.isNaN(value)) {
      if (this.decimal?.mark === '.' || !text.includes('.')) return value;
      this.decimal ??= { mark: '.', line };
      return this.decimal.mark === '.' ? value : Number.NaN;
    }
    return this.readUnusual(text, line);
  }

  /** Decimal commas, and the minus sign of typesetters. */
  private readUnusual(text: string, line: number): number {
    const plain = text.replace(/^[\u2212\u2013]/, '-');
    if (plain.includes(',')) {
      const isNumber = /^[+-]?(?:\d+,\d+|,\d+)(?:[eE][+-]?\d+)?$/.test(plain);
      if (!isNumber) return Number.NaN;
      this.decimal ??= { mark: ',', line };
      return this.decimal.mark === ',' ? parseDecimal(plain.replace(',', '.')) : Number.NaN;
    }
    return plain === text ? Number.NaN : this.read(plain, line);
  }

  /** Digits behind the decimal mark. */
  decimals(text: string): number {
    return decimalsOf(this.decimal?.mark === ',' ? text.replace(',', '.') : text);
  }

  /** Why a text is no number in this file. */
  why(text: string): string {
    const other = this.decimal?.mark === ',' ? '.' : ',';
    if (this.decimal && text.includes(other) && /^[+-]?[\d.,]+$/.test(text)) {
      const names = { '.': 'point', ',': 'comma' };
      return `is written with a decimal ${names[other]}, and line ${this.decimal.line} with a decimal ${names[this.decimal.mark]}`;
    }
    return 'is not a number';
  }
}

/** True where a cell means "no value". */
export type MissingMarks = (text: string) => boolean;

/** Those of the listed marks that are numbers. */
export const missingNumbers = (listed: readonly string[]): number[] =>
  [...new Set(listed.map((mark) => numberIn(mark.trim().toLowerCase())))].filter(
    (value) => !Number.isNaN(value),
  );

const MARKS_IN_A_ROW = /^(?:[-\u2013\u2014\u2212]+|\*+|\?+|#+|\.{2,}|_+)$/;

const isDigit = (code: number): boolean => code >= 48 && code <= 57;

/** Tells missing marks: blanks, `---`, `***`, `?` and those that the settings list, words in any case, numbers by value. */
export function missingMarks(listed: readonly string[]): MissingMarks {
  const marks = new Set(listed.map((mark) => mark.trim().toLowerCase()));
  const numbers = new Set(missingNumbers(listed));
  return (text) => {
    if (text === '') return true;
    // Nearly all cells are numbers, and most lists name none: this is asked for each cell.
    if (isDigit(text.charCodeAt(0)) || isDigit(text.charCodeAt(1)))
      return numbers.size > 0 && (numbers.has(numberIn(text)) || marks.has(text.toLowerCase()));
    return MARKS_IN_A_ROW.test(text) || marks.has(text.toLowerCase());
  };
}

const numberIn = (text: string): number => parseDecimal(text.replace(',', '.'));
