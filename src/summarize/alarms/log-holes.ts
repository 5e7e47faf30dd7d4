import { type Interval, overlaps } from '../../recording/interval.js';
import { daysIn } from '../calendar.js';
import type { UnitAuditInput } from './audit-settings.js';

/** Fewer quiet days in a row happen. Own convention. */
const LEAST_DAYS = 3;

/** Days in a row on which somebody was monitored and no alarm of any kind came. */
export interface LogHole extends Interval {
  readonly days: number;
}

/** Where the alarm log may not have been exported whole: 3 days or more in a row without a row, though patients were there. */
export function logHoles({ patients, alarmsCover, clock }: UnitAuditInput): LogHole[] {
  if (alarmsCover === null) return [];
  const onsets = patients
    .flatMap(({ alarms, unjudged }) => [...alarms, ...unjudged].map(({ onset }) => onset))
    .sort((a, b) => a - b);
  const holes: LogHole[] = [];
  let next = 0;
  let silent: Interval[] = [];
  const close = (): void => {
    const [first, last] = [silent.at(0), silent.at(-1)];
    if (first && last && silent.length >= LEAST_DAYS)
      holes.push({ start: first.start, end: last.end, days: silent.length });
    silent = [];
  };
  for (const day of daysIn(alarmsCover, clock)) {
    while (next < onsets.length && onsets[next] < day.start) next++;
    const isSilent = next >= onsets.length || onsets[next] >= day.end;
    if (!isSilent) close();
    else if (patients.some(({ extent }) => overlaps(extent, day))) silent.push(day);
  }
  close();
  return holes;
}
