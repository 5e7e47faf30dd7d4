/** A time as a cell writes it. */
export interface WrittenTime {
  /** Wall-clock digits as the milliseconds at which UTC shows the same. */
  readonly localMs: number;
  /** Local time minus UTC in milliseconds, where the cell says so. */
  readonly offsetMs: number | null;
}

const ISO =
  /^(\d{4})-(\d{2})-(\d{2})[T ](\d{2}):(\d{2})(?::(\d{2})(?:[.,](\d{1,9}))?)?\s*(Z|[+-](?:[01]\d|2[0-3])(?::?[0-5]\d)?)?$/;

const digit = (text: string, i: number): number => text.charCodeAt(i) - 48;
const pair = (text: string, i: number): number => digit(text, i) * 10 + digit(text, i + 1);

/** Midnight of a calendar day, NaN where the calendar has no such day. */
function midnight(year: number, month: number, day: number): number {
  const ms = Date.UTC(year, month - 1, day);
  const date = new Date(ms);
  // Date.UTC takes the years 0 to 99 for 1900 to 1999.
  const same =
    date.getUTCFullYear() === year && date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
  return same ? ms : Number.NaN;
}

function offsetOf(text: string): number {
  if (text === 'Z') return 0;
  const minutes = pair(text, 1) * 60 + (text.length > 3 ? pair(text, text.length - 2) : 0);
  return (text[0] === '-' ? -minutes : minutes) * 60_000;
}

function parseIso(text: string): WrittenTime | null {
  const match = ISO.exec(text);
  if (!match) return null;
  const [year, month, day, hour, minute, second] = match.slice(1, 7).map((part) => Number(part ?? 0));
  const start = midnight(year, month, day);
  if (Number.isNaN(start) || hour > 23 || minute > 59 || second > 59) return null;
  const fraction = match[7] ? Number(`0.${match[7]}`) * 1000 : 0;
  const localMs = start + ((hour * 60 + minute) * 60 + second) * 1000 + fraction;
  return { localMs, offsetMs: match[8] ? offsetOf(match[8]) : null };
}

/**
 * Makes a reader of ISO 8601 times (`2031-02-11 02:10:00`, with `T`, fractions, `Z` or an offset allowed).
 * The reader remembers the last day, since neighbouring rows share it; it returns null where a cell is no
 * such time, a day that the calendar lacks included.
 */
export function isoTimeReader(): (text: string) => WrittenTime | null {
  let day = '';
  let dayMs = 0;
  const plain = /^\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}:\d{2}(?:\.\d{1,6})?$/;
  return (text) => {
    if (!plain.test(text)) return parseIso(text);
    if (!text.startsWith(day) || day === '') {
      const parsed = parseIso(text);
      if (!parsed) return null;
      day = text.slice(0, 10);
      dayMs = Math.floor(parsed.localMs / 86_400_000) * 86_400_000;
      return parsed;
    }
    const hour = pair(text, 11);
    const minute = pair(text, 14);
    const second = pair(text, 17);
    if (hour > 23 || minute > 59 || second > 59) return null;
    const fraction = text.length > 19 ? Number(`0${text.slice(19)}`) * 1000 : 0;
    return { localMs: dayMs + ((hour * 60 + minute) * 60 + second) * 1000 + fraction, offsetMs: null };
  };
}
