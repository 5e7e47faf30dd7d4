/** Figures as the page and the printed summary write them. */
import { NONE } from '../../src/report/words.js';

/** A share in per cent, one decimal; only all is 100 % and only none is 0 %. */
export function percent(share: number | null): string {
  if (share === null) return NONE;
  const text = (share * 100).toFixed(1);
  if (text === '0.0' && share > 0) return '< 0.1 %';
  if (text === '100.0' && share < 1) return '> 99.9 %';
  return share === 0 ? '0 %' : share === 1 ? '100 %' : `${text} %`;
}

/** Parts of a whole; a dash where the whole is nothing. */
export const shareOf = (part: number, whole: number): string => percent(whole === 0 ? null : part / whole);

/** mmHg with three decimals: targets are hundredths. */
export const mmHg = (value: number | null): string => (value === null ? NONE : value.toFixed(3));

/** A count with spaces between thousands. */
export const count = (value: number): string => String(value).replace(/\B(?=(\d{3})+$)/g, ' ');

/** Seconds as hours with one decimal, or minutes where it is less than an hour. */
export function longTime(seconds: number): string {
  if (seconds >= 3600) return `${count(Math.floor(seconds / 3600))}.${Math.floor((seconds % 3600) / 360)} h`;
  return seconds >= 120 ? `${Math.round(seconds / 60)} min` : `${seconds} s`;
}

const two = (value: number): string => String(value).padStart(2, '0');

/** `31:05:20`: hours, minutes and seconds after the start of a recording. */
export const clockAfterStart = (second: number): string =>
  `${two(Math.floor(second / 3600))}:${two(Math.floor(second / 60) % 60)}:${two(second % 60)}`;

/** `seed 1012 at 31:05:20`. */
export const placeOf = (seed: number, second: number): string => `seed ${seed} at ${clockAfterStart(second)}`;

/** What a sampling is called. */
export const samplingName = (samplingSeconds: number | null): string =>
  samplingSeconds === null ? 'all' : `${samplingSeconds} s`;
