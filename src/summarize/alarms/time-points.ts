import { type Interval, intersect } from '../../recording/interval.js';
import { monthsIn, weeksIn } from '../calendar.js';
import type { UnitAuditInput } from './audit-settings.js';

/** A week or month of a chart over time, milliseconds UTC; the first and the last may be cut. */
export interface TimePoint extends Interval {
  /** Where it stands to a change: wholly before it, wholly after it, or across it; all where none is marked. */
  readonly part: 'all' | 'before' | 'across' | 'after';
}

/** The weeks (from Monday) or months that fill the period as far as a log of alarms or of care reaches. */
export function timePoints({ period, alarmsCover, careCover, settings, clock }: UnitAuditInput): TimePoint[] {
  const covers = [alarmsCover, careCover].filter((cover) => cover !== null);
  const reach = {
    start: Math.min(...covers.map(({ start }) => start)),
    end: Math.max(...covers.map(({ end }) => end)),
  };
  const window = covers.length === 0 ? [period] : intersect([period], [reach]);
  const { per, changed } = settings;
  return window
    .flatMap((one) => (per === 'week' ? weeksIn(one, clock) : monthsIn(one, clock)))
    .map((one) => ({ ...one, part: changed === null ? 'all' : partOf(one, changed.atMs) }));
}

const partOf = ({ start, end }: Interval, changedMs: number): 'before' | 'across' | 'after' =>
  end <= changedMs ? 'before' : start >= changedMs ? 'after' : 'across';
