import type { Evidence } from '../clean/rule.js';
import type { CareKind } from '../recording/care.js';
import type { ZoneClock } from '../recording/zone.js';
import { clockTime } from './words.js';

const LOGGED: Readonly<Record<CareKind, string>> = {
  turn: 'a turn',
  suction: 'suctioning',
  zeroing: 'zeroing',
  drainOpen: 'opening of the drain',
  drainClosed: 'closing of the drain',
  travel: 'travel',
  headOfBed: 'the head of the bed',
  treatment: 'treatment',
  other: 'something else',
};

/** What speaks for a mark: `MAP rose by 12 mmHg, suctioning logged 02:10`; empty where nothing does. */
export function evidenceWords({ mapRiseMmHg, care, endedBySignal }: Evidence = {}, clock: ZoneClock): string {
  return [
    ...(mapRiseMmHg === undefined ? [] : [`MAP rose by ${Math.round(mapRiseMmHg)} mmHg`]),
    ...(care === undefined ? [] : [`${LOGGED[care.kind]} logged ${clockTime(clock.format(care.at))}`]),
    ...(endedBySignal ? ['closing not logged: the signal came alive again'] : []),
  ].join(', ');
}
