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

/** What a header such as `Time (UTC)` or `Time (UTC+01:00)` says of the clock, ms; null where it says nothing. */
export function offsetIn(header: string): number | null {
  const match = /(?<![a-z])(?:utc|gmt)(?:\s*([+-])(\d{1,2})(?::?(\d{2}))?)?(?![a-z\d])/i.exec(header);
  if (!match) return null;
  const minutes = Number(match[2] ?? 0) * 60 + Number(match[3] ?? 0);
  return (match[1] === '-' ? -minutes : minutes) * 60_000;
}

/** The order of day and month that a pattern such as `dd/mm/yyyy` in a header or under it states. */
export function orderIn(text: string): 'dayFirst' | 'monthFirst' | null {
  if (/\b(dd?|tt)[./-]mm?[./-](yyyy|jjjj|aaaa)\b/i.test(text)) return 'dayFirst';
  return /\bmm?[./-]dd?[./-]yyyy\b/i.test(text) ? 'monthFirst' : null;
}
