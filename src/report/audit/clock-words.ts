import type { ClockReading, Pile } from '../../summarize/alarms/unit-clocks.js';
import { seconds, share } from '../words.js';

/** `4 min 20 s after` or `4 min 20 s before`. */
export const lagWords = (offsetSeconds: number): string =>
  offsetSeconds === 0
    ? 'at the same second as'
    : `${seconds(Math.abs(offsetSeconds) * 1000)} ${offsetSeconds > 0 ? 'after' : 'before'}`;

const pileWords = ({ share: part, chanceShare }: Pile): string =>
  `${share(part)} of the alarms compared, where chance alone would give ${share(chanceShare)}`;

const WAITS = 'What a monitor averages and waits before it alarms is in that time.';

/** What the comparison of the clocks says. */
export function clockSentence(reading: ClockReading): string {
  const { is, alarms, piles } = reading;
  switch (is) {
    case 'tooFew':
      return `Whether the clocks of the alarm log and of the exports are apart cannot be told: it takes 20 alarms that can be held against crossings of their own limit, and there are ${alarms}.`;
    case 'none':
      return `Whether the clocks of the alarm log and of the exports are apart cannot be told: alarms follow the crossings of their own limits by no time that stands out from chance.`;
    case 'together':
      return `No sign that the clocks of the alarm log and of the exports are apart: most often alarms come ${lagWords(piles[0].offsetSeconds)} the crossing of their own limit (${pileWords(piles[0])}). ${WAITS}`;
    case 'apart':
      return `The clocks of the alarm log and of the exports may be apart: most often alarms come ${lagWords(piles[0].offsetSeconds)} a crossing of their own limit (${pileWords(piles[0])}). ${WAITS}`;
    case 'hours': {
      return `The clock of the alarm log seems to be ${seconds(Math.abs(reading.apartSeconds) * 1000)} ${reading.apartSeconds > 0 ? 'ahead of' : 'behind'} that of the exports, as where a time zone or summer time is set otherwise: most often alarms come ${lagWords(piles[0].offsetSeconds)} a crossing of their own limit (${pileWords(piles[0])}). ${WAITS}`;
    }
    case 'two':
      return `A part of the alarms seems to have another clock than the rest, as where summer time began or one monitor is set otherwise: alarms come ${piles.map(({ offsetSeconds }) => lagWords(offsetSeconds)).join(', and ')} a crossing of their own limit (${piles.map(({ share: part }) => share(part)).join(' and ')} of the alarms compared). One shift for all cannot correct that.`;
  }
}

/** What would have to be added to the times of the log, seconds; null where there is nothing to add, or nobody can tell. */
export function shiftOf(reading: ClockReading): number | null {
  if (reading.is === 'hours') return -reading.apartSeconds;
  return reading.is === 'apart' ? -reading.piles[0].offsetSeconds : null;
}

/** How a person corrects it; empty where there is nothing to correct. */
export function correctionWords(reading: ClockReading): string {
  const shift = shiftOf(reading);
  if (shift === null) return '';
  const wait =
    reading.is === 'apart'
      ? ` plus the seconds that your monitors average and wait before they alarm (where that is 10 s, ${shift + 10})`
      : '';
  return `Nothing was corrected. If the clocks were apart, write "alarms: {files: ..., shiftSeconds: ${shift}}" in the pipeline file${wait === '' ? '' : `, as ${shift}`}${wait}: a positive number moves the times of the log to later ones. Classes, delays and responses on this page hold only once that is settled.`;
}
