/** What stands where a figure is missing. */
export const NONE = '–';

/** A pressure with as many decimals as the monitor wrote. */
export function pressure(mmHg: number | null, decimals: number): string {
  if (mmHg === null) return NONE;
  const text = mmHg.toFixed(decimals);
  return Number(text) === 0 ? (0).toFixed(decimals) : text.replace('-', '−');
}

/** A difference of pressures with its sign: `+48.6`, `−14.0`. */
export const signed = (mmHg: number, decimals: number): string =>
  Number(mmHg.toFixed(decimals)) > 0 ? `+${pressure(mmHg, decimals)}` : pressure(mmHg, decimals);

/** Pressure-time dose, one decimal; a dose that is there is never shown as none. */
export function dose(mmHgHours: number | null): string {
  if (mmHgHours === null) return NONE;
  return mmHgHours > 0 && mmHgHours < 0.05 ? '< 0.1' : mmHgHours.toFixed(1);
}

/** Hours as `3 h 12 min`; a time that is there is never shown as none. */
export function duration(hours: number | null): string {
  if (hours === null) return NONE;
  // Half a minute goes up whatever the last bits of a sum say, so that two sums of the same time print the same.
  const minutes = Math.round(hours * 60 + 1e-9);
  if (minutes === 0) return hours > 0 ? '< 1 min' : '0 min';
  const whole = Math.floor(minutes / 60);
  const rest = minutes % 60;
  return whole === 0 ? `${rest} min` : rest === 0 ? `${whole} h` : `${whole} h ${rest} min`;
}

/** A duration in a table, where many that are none would hide the others: `0`. */
export const durationCell = (hours: number | null): string => (hours === 0 ? '0' : duration(hours));

/** A dose in a table, where many that are none would hide the others: `0`. */
export const doseCell = (mmHgHours: number | null): string => (mmHgHours === 0 ? '0' : dose(mmHgHours));

/** A share in whole per cent; only all is 100 %, only none is 0 %. */
export function share(part: number): string {
  const percent = Math.round(part * 100);
  if (percent === 0 && part > 1e-9) return '< 1 %';
  if (percent === 100 && part < 1 - 1e-9) return '> 99 %';
  return `${percent} %`;
}

/** A length of seconds as a removed stretch has it: `12 s`, `3 min 5 s`, `2 h 4 min`. */
export function seconds(ms: number): string {
  const whole = Math.round(ms / 1000);
  if (whole < 60) return `${whole} s`;
  if (whole >= 3600) return duration(whole / 3600);
  return whole % 60 === 0 ? `${whole / 60} min` : `${Math.floor(whole / 60)} min ${whole % 60} s`;
}

/** `02:10` of a local time with offset. */
export const clockTime = (iso: string): string => iso.slice(11, 16);

/** `02:10:05` of a local time with offset. */
export const clockSeconds = (iso: string): string => iso.slice(11, 19);

const MONTHS = 'January February March April May June July August September October November December'.split(
  ' ',
);

/** `11 February 2031` of a local time with offset. */
export const day = (iso: string): string =>
  `${Number(iso.slice(8, 10))} ${MONTHS[Number(iso.slice(5, 7)) - 1]} ${iso.slice(0, 4)}`;

/** `11 Feb 02:10` of a local time with offset. */
export const dayAndTime = (iso: string): string =>
  `${Number(iso.slice(8, 10))} ${MONTHS[Number(iso.slice(5, 7)) - 1].slice(0, 3)} ${clockTime(iso)}`;

/** `11 Feb 02:10:05` of a local time with offset. */
export const dayAndSeconds = (iso: string): string =>
  `${dayAndTime(iso).slice(0, -clockTime(iso).length)}${clockSeconds(iso)}`;

/** How to write a time of a period: with its day where the period is longer than one. */
export const oneOfDays = (isLong: boolean): ((iso: string) => string) => (isLong ? dayAndTime : clockTime);

/** True where a clock time alone would be two instants of the period. */
export const isOverADay = ({ start, end }: { start: string; end: string }): boolean =>
  Date.parse(end) - Date.parse(start) > 86_400_000;

/** ` +02:00` of a local time, where a clock change inside the period makes some clock times two instants; else empty. */
export const clockOffset = (iso: string, { start, end }: { start: string; end: string }): string =>
  start.slice(19) === end.slice(19) ? '' : ` ${iso.slice(19)}`;

/**
 * How to write times of a period so that each is one instant: with the day where it is longer than one, and with the
 * offset where the clock is changed in it: `26 Oct 02:41 +02:00`.
 */
export function timesOf(period: { start: string; end: string }): (iso: string) => string {
  const at = oneOfDays(isOverADay(period));
  return (iso) => `${at(iso)}${clockOffset(iso, period)}`;
}

/** `14 Apr 17:37 to 17:56`: two times of a period, as `timesOf` writes them; the day once where it is the same. */
export function fromTo({ start, end }: { start: string; end: string }, at: (iso: string) => string): string {
  const [from, to] = [at(start), at(end)];
  const sameDay = start.slice(0, 10) === end.slice(0, 10) ? dayAndTime(start).slice(0, -5) : '';
  return `${from} to ${sameDay !== '' && to.startsWith(sameDay) ? to.slice(sameDay.length) : to}`;
}

/** `11 February 2031 19:00 to 12 February 2031 07:00`, `12 February 2031 03:00 to 04:00`. */
export const span = (start: string, end: string): string =>
  `${day(start)} ${clockTime(start)} to ${day(start) === day(end) ? '' : `${day(end)} `}${clockTime(end)}`;

/** `11 to 12 February 2031`, `31 January to 1 February 2031`, or one day. */
export function days(start: string, end: string): string {
  if (start.slice(0, 10) === end.slice(0, 10)) return day(start);
  if (start.slice(0, 7) === end.slice(0, 7)) return `${Number(start.slice(8, 10))} to ${day(end)}`;
  const from = start.slice(0, 4) === end.slice(0, 4) ? day(start).slice(0, -5) : day(start);
  return `${from} to ${day(end)}`;
}

/** What a title calls the time of a report: `night of 11 to 12 February 2031`, or the two ends. */
export const titleTime = (word: 'night' | 'period', start: string, end: string): string =>
  word === 'night' ? `night of ${days(start, end)}` : span(start, end);

/** `1 episode`, `3 episodes`. */
export const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

/** `a, b and c`. */
export const listed = (words: readonly string[]): string =>
  words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words[words.length - 1]}`;

/** Order of patients' numbers and names: `9` before `10`, and the same on every machine. */
export function byPatientId(a: string, b: string): number {
  const digits = (id: string): number => (/^\d{1,15}$/.test(id) ? Number(id) : Number.POSITIVE_INFINITY);
  const difference = digits(a) - digits(b);
  if (Number.isFinite(difference) && difference !== 0) return difference;
  if (digits(a) !== digits(b)) return digits(a) < digits(b) ? -1 : 1;
  return a < b ? -1 : a > b ? 1 : 0;
}
