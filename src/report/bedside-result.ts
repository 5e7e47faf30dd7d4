import { type Interval, overlaps } from '../recording/interval.js';
import { shorten } from '../recording/problem.js';
import type { ZoneClock } from '../recording/zone.js';
import type { Bedside } from './bedside.js';
import { ends } from './ends.js';
import type { RecordingResult } from './results-schema.js';

/** Pictures of episodes reach so far to both sides of the period. */
const AROUND_MS = 30 * 60_000;

interface Happened {
  readonly start: number;
  readonly end: number | null;
}

/** The part of what logs say that shares time with the period and the half hours around it, as results.json has it. */
export function bedsideResult(
  { alarms, entries, drainOpen }: Bedside,
  period: Interval,
  clock: ZoneClock,
): RecordingResult['bedside'] {
  const around = { start: period.start - AROUND_MS, end: period.end + AROUND_MS };
  const isNear = ({ start, end }: Happened): boolean => overlaps({ start, end: end ?? start }, around);
  const local = (time: number | null): string | null => (time === null ? null : clock.format(time));
  const times = ({ start, end }: Happened) => ({ start: clock.format(start), end: local(end) });
  return {
    alarms:
      alarms?.filter(isNear).map((alarm) => ({
        ...times(alarm),
        acknowledged: local(alarm.acknowledged),
        text: shorten(alarm.text),
      })) ?? null,
    entries:
      entries?.filter(isNear).map((entry) => ({
        ...times(entry),
        isTreatment: entry.isTreatment,
        text: shorten(entry.text),
      })) ?? null,
    drainOpen: drainOpen.filter(isNear).map((open) => ends(open, clock)),
  };
}
