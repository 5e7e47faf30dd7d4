import { Problem, shorten } from '../../recording/problem.js';

/** Headers of the columns that say when, in lower case without units. Common practice, no source. */
const TIME =
  /^(date ?\/? ?time|date and time|time ?stamp|time|clock|clock time|local time|time of day|recorded( at)?|recording time|measured at|datum ?\/? ?uhrzeit|datum ?\/? ?zeit|zeit|uhrzeit|zeitstempel|tid|tidspunkt|klokkeslett|heure|hora|ora|tijd|date ?heure|fecha ?\/? ?hora)( (utc|gmt))?$/;
const DATE = /^(date|recording date|day|datum|dato|fecha|data)$/;
const ELAPSED =
  /^(elapsed|elapsed time|time since start|time from start|seconds since start|relative time|elapsed (milliseconds|ms|seconds|s|minutes|min|hours|h)|seconds|sec|t|time)$/;

/** Headers of exports that hold a row a value. Common practice, no source. */
const PARAMETER =
  /^(parameter|parameter name|param|signal|signal name|channel|channel name|measurement|measure|variable|variable name|observation|vital sign|item|label|name|code)$/;
const VALUE = /^(value|result|reading|numeric value|measured value|val)$/;
const UNIT = /^(unit|units|uom|unit of measure|unit of measurement|value unit)$/;

export const saysTime = (name: string): boolean => TIME.test(name);
export const saysDate = (name: string): boolean => DATE.test(name);
export const saysElapsed = (name: string): boolean => ELAPSED.test(name);
export const saysParameter = (name: string): boolean => PARAMETER.test(name);
export const saysValue = (name: string): boolean => VALUE.test(name);
export const saysUnit = (name: string): boolean => UNIT.test(name);

/** Milliseconds of a unit of time that a header gives; null where it is none. */
export function millisecondsOf(unit: string | null): number | null {
  const match =
    /^(ms|msec|milliseconds?)$|^(s|sec|secs|seconds?)$|^(min|mins|minutes?)$|^(h|hr|hrs|hours?)$/i.exec(
      unit?.trim() ?? '',
    );
  if (!match) return null;
  return [1, 1000, 60_000, 3_600_000][match.slice(1).findIndex((group) => group !== undefined)];
}

/**
 * What a header such as `Time (UTC)` or `Time (UTC+01:00)` says of the clock, ms; null where it says nothing.
 *
 * @throws Problem where it says something of UTC or GMT that is no offset: a zone by name changes with the season
 */
export function offsetIn(header: string): number | null {
  const match = /(?<![a-z])(?:utc|gmt)(?![a-z])(.*)$/i.exec(header.replace(/[\u2010-\u2015\u2212]/g, '-'));
  if (!match) return null;
  const offset = /^\s*(?:([+-])\s*(\d{1,2})(?::?(\d{2}))?)?\s*[)\]}]?\s*$/.exec(match[1]);
  if (!offset) {
    throw new Problem(
      `"${shorten(header)}" names a clock that is no offset from UTC`,
      'Write the offset as UTC+01:00, or remove it from the header and say timezone in the pipeline file.',
      { column: header },
    );
  }
  const minutes = Number(offset[2] ?? 0) * 60 + Number(offset[3] ?? 0);
  return (offset[1] === '-' ? -minutes : minutes) * 60_000;
}

/** Columns without which the time beside them means something else. Common practice, no source. */
export const qualifiesTime = (name: string): boolean =>
  /^(am ?\/? ?pm|meridiem|(utc |gmt )?offset|time ?zone|tz|ms|milliseconds?)$/.test(name);

/** Columns that say what kind of value stands beside them, in exports with a row a value. Common practice, no source. */
export const qualifiesValue = (name: string): boolean =>
  /^(type|value type|statistic|stat|kind|category|subtype|qualifier|aggregation)$/.test(name);

/** The order of day and month that a pattern such as `dd/mm/yyyy` in a header or under it states. */
export function orderIn(text: string): 'dayFirst' | 'monthFirst' | null {
  if (/\byyyy[./-]dd?[./-]mm?\b/i.test(text)) {
    throw new Problem(
      `"${shorten(text)}" puts the day before the month behind the year`,
      'Export the dates as yyyy-mm-dd, or with the year last.',
    );
  }
  if (/\b(dd?|tt)[./-]mm?[./-](yyyy|jjjj|aaaa)\b/i.test(text)) return 'dayFirst';
  return /\bmm?[./-]dd?[./-]yyyy\b/i.test(text) ? 'monthFirst' : null;
}
