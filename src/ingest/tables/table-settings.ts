import type { DateOrder, TimeForm } from '../settings.js';

/** What the pipeline file says of one column of a table; what it leaves out is read from the file. */
export interface TableColumnChoice {
  /** The header of its column. */
  readonly header?: string | undefined;
  readonly unit?: string | undefined;
  /** Of a time: the column of the date where it stands apart. */
  readonly date?: string | undefined;
  readonly order?: DateOrder | undefined;
  readonly form?: TimeForm | undefined;
  /** Of a column of choices: what the file's own words mean, as `{"3": high}`. */
  readonly words?: Readonly<Record<string, string>> | undefined;
  /** Of the outcome: gos, gose or mortality. */
  readonly scale?: string | undefined;
}

/** Everything of the pipeline file that reading a log or table depends on. */
export interface TableSettings {
  /** IANA zone of times that carry no offset. */
  readonly zone: string;
  /** Cell texts that mean "no value", beside the blank and the usual marks. */
  readonly missing: readonly string[];
  /** By key of the table's description: a header, or more than that. */
  readonly columns?: Readonly<Record<string, string | TableColumnChoice | undefined>> | undefined;
  /** Which number of a date such as 03/04/2031 is the day, in all columns that are given no order of their own. */
  readonly order?: DateOrder | undefined;
}

/** What the pipeline file says of a column, its short form written out. */
export function choiceOf({ columns }: Pick<TableSettings, 'columns'>, key: string): TableColumnChoice {
  const choice = columns && Object.hasOwn(columns, key) ? columns[key] : undefined;
  return typeof choice === 'string' ? { header: choice } : (choice ?? {});
}
