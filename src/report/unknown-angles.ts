import type { WrittenEntry } from '../ingest/tables/care-entries.js';
import type { Interval } from '../recording/interval.js';
import { shorten } from '../recording/problem.js';
import type { ZoneClock } from '../recording/zone.js';
import type { LevelStep } from '../summarize/levelling.js';
import { ends } from './ends.js';
import { dayAndTime, timesOf } from './words.js';

const MOST_NAMED = 3;

/**
 * Which entries of the care log leave the angle of the head of the bed unknown, and until when, a sentence each:
 * `20:00 "Head of bed up" gives no angle: CPP is unknown until 23:00.`
 *
 * @param steps that reach into the period, with their own ends
 */
export function unknownAngles(
  steps: readonly LevelStep[],
  care: readonly WrittenEntry[],
  period: Interval,
  clock: ZoneClock,
): string[] {
  const inPeriod = timesOf(ends(period, clock));
  const at = (utcMs: number): string =>
    utcMs < period.start ? dayAndTime(clock.format(utcMs)) : inPeriod(clock.format(utcMs));
  const told = steps.flatMap(({ start, end, correctionMmHg }) => {
    if (correctionMmHg !== null) return [];
    const mine = care.filter((one) => one.start === start && one.kinds.includes('headOfBed'));
    if (mine.length === 0) return [];
    const isOpen = mine.every(({ angleDegrees }) => angleDegrees === null);
    const which = isOpen
      ? `${at(start)} "${shorten(mine[0].text)}" gives no angle`
      : `${at(start)} entries of one time give different angles`;
    return [`${which}: CPP is unknown ${end < period.end ? `until ${at(end)}` : 'from then on'}.`];
  });
  const more = told.length - MOST_NAMED;
  return more > 0 ? [...told.slice(0, MOST_NAMED), `So it is ${more} more times.`] : told;
}
