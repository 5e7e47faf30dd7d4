import { type Interval, lengthMs } from '../recording/interval.js';
import type { ZoneClock } from '../recording/zone.js';
import { type NightTimes, nightsIn } from './calendar.js';

/** What the pipeline file asks for. */
export type PeriodChoice = 'lastNight' | 'all' | Interval;

/** The time that a report covers. */
export interface ReportPeriod extends Interval {
  /** What a sentence calls it. */
  readonly word: 'night' | 'period';
  /** How it was chosen, for the page. */
  readonly why: string;
}

/**
 * The period of a report over data of this extent. The last night is the last one that is at least half over when
 * the data end, so that an export pulled at 05:00 or at 19:30 shows the night that the reader means.
 */
export function resolvePeriod(
  choice: PeriodChoice,
  extent: Interval,
  night: NightTimes,
  clock: ZoneClock,
): ReportPeriod {
  if (typeof choice !== 'string') {
    return { start: choice.start, end: choice.end, word: 'period', why: 'as the pipeline file says' };
  }
  if (choice === 'lastNight') {
    const nights = nightsIn(extent, night, clock);
    const last = nights.findLast((one) => one.start + lengthMs(one) / 2 <= extent.end);
    if (last) {
      return {
        start: last.start,
        end: last.end,
        word: 'night',
        why: 'the last night of which the data cover at least half',
      };
    }
    return { ...extent, word: 'period', why: 'the whole of the data, which reach no night' };
  }
  return { ...extent, word: 'period', why: 'the whole of the data' };
}
