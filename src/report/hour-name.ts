import { clockTime, day, dayAndTime } from './words.js';

const offsetOf = (iso: string): string => iso.slice(19);

/** `(clock set back)` where the clock is changed between two local times. */
function changeWords(start: string, end: string): string {
  if (offsetOf(start) === offsetOf(end)) return '';
  const localMs = (iso: string): number => Date.parse(`${iso.slice(0, 19)}Z`);
  const shown = localMs(end) - localMs(start);
  return shown < Date.parse(end) - Date.parse(start) ? ' (clock set back)' : ' (clock set forward)';
}

/** `02:00 to 03:00`, with its day where the period is longer than one; says so where the clock is changed in it. */
export const hourName = ({ start, end }: { start: string; end: string }, isLong: boolean): string =>
  `${isLong ? dayAndTime(start) : clockTime(start)} to ${clockTime(end)}${changeWords(start, end)}`;

/** `11 February`, and its times where the period begins or ends inside it. */
export function dayName({ start, end }: { start: string; end: string }): string {
  const from = clockTime(start) === '00:00' ? '' : ` from ${clockTime(start)}`;
  const to = clockTime(end) === '00:00' ? '' : ` to ${clockTime(end)}`;
  return `${day(start).slice(0, -5)}${from}${to}`;
}
