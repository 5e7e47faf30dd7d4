import { Problem } from '../../recording/problem.js';
import { type IngestSettings, timeChoice } from '../settings.js';
import { channelNamed } from './channel-names.js';
import type { Columns, TimeColumns } from './columns.js';
import { findColumn, listed } from './find-column.js';
import type { HeaderWords } from './header-words.js';
import {
  millisecondsOf,
  offsetIn,
  orderIn,
  qualifiesTime,
  qualifiesValue,
  saysDate,
  saysElapsed,
  saysParameter,
  saysTime,
  saysUnit,
  saysValue,
} from './layout-words.js';

/** The columns that say when. */
export function timeColumns(
  headers: readonly string[],
  words: readonly HeaderWords[],
  unitsRow: readonly string[] | null,
  settings: IngestSettings,
): TimeColumns {
  const choice = timeChoice(settings.columns);
  const named =
    (says: (name: string) => boolean) =>
    (i: number): boolean =>
      says(words[i].name);
  let date = findColumn(
    headers,
    'the date',
    choice.header && !choice.date ? () => false : named(saysDate),
    choice.date,
  );
  let index = findColumn(headers, 'the time', named(saysTime), choice.header);
  if (index < 0) index = findColumn(headers, 'the time', named(saysElapsed), undefined);
  if (index < 0 && date >= 0) {
    // A column named only "Date" may hold the time as well.
    index = date;
    date = -1;
  }
  if (index < 0) {
    throw new Problem(
      'there is no time column',
      `A header such as "Time" is expected; the columns are ${listed(headers)}. Name it in the pipeline file as columns: {time: ...}.`,
    );
  }
  const apart = choice.header === undefined ? words.findIndex(({ name }) => qualifiesTime(name)) : -1;
  if (apart >= 0) {
    throw new Problem(
      `"${headers[apart]}" stands apart from the time that it belongs to`,
      'Export the time with it in one cell; where it changes nothing, name the time column as columns: {time: ...}.',
      { column: headers[apart] },
    );
  }
  const stated = [index, date].flatMap((i) => (i < 0 ? [] : [headers[i], unitsRow?.[i] ?? '']));
  return {
    index,
    date: date < 0 ? null : date,
    offsetMs: stated.map(offsetIn).find((offset) => offset !== null) ?? null,
    unitMs: millisecondsOf(
      choice.unit ?? words[index].unit ?? unitsRow?.[index] ?? words[index].name.split(' ').at(-1) ?? null,
    ),
    order: stated.map(orderIn).find((order) => order !== null) ?? null,
  };
}

/** The columns of an export with a row a value; null where it has a column a channel. */
export function longColumns(
  headers: readonly string[],
  named: (says: (name: string) => boolean) => (i: number) => boolean,
  { columns }: IngestSettings,
): Columns['long'] {
  const { parameter, value, unit } = columns;
  const isDeclared = parameter !== undefined || value !== undefined;
  const holds = (says: (name: string) => boolean): boolean => headers.some((_, i) => named(says)(i));
  // Columns of remarks, a label and a value, may stand beside channels.
  const isWide = headers.some((_, i) =>
    named((name) => ['icp', 'map'].includes(channelNamed(name) ?? ''))(i),
  );
  if (!isDeclared && (isWide || !(holds(saysParameter) && holds(saysValue)))) return null;
  const found = {
    parameter: findColumn(headers, 'the parameter', named(saysParameter), parameter),
    value: findColumn(headers, 'the value', named(saysValue), value),
    unit: findColumn(headers, 'the unit', named(saysUnit), unit),
  };
  if (found.parameter < 0 || found.value < 0) return null;
  const qualifier = headers.findIndex((_, i) => named(qualifiesValue)(i));
  return { ...found, unit: found.unit < 0 ? null : found.unit, qualifier: qualifier < 0 ? null : qualifier };
}
