import type { Interval } from '../recording/interval.js';
import type { ZoneClock } from '../recording/zone.js';

/** The two ends of an interval as local time. */
export const ends = ({ start, end }: Interval, clock: ZoneClock): { start: string; end: string } => ({
  start: clock.format(start),
  end: clock.format(end),
});
