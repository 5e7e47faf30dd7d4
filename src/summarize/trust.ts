import type { Mark } from '../clean/rule.js';
import { type Interval, intersect, lengthMs, subtract, totalMs, unite } from '../recording/interval.js';
import { HOUR_MS } from './time.js';

/** Known for less than this share of the period, or suspect for this long: nobody can say how the patient was. */
const LEAST_KNOWN_SHARE = 0.5;
const MOST_SUSPECT_HOURS = 0.5;

/** A stretch in which the probe may not have measured the patient. */
export interface SuspectStretch extends Interval {
  /** Rules that saw it, in their order. */
  readonly rules: readonly string[];
  readonly direction: 'down' | 'up';
}

/** How far a patient's ICP can be trusted over a period. */
export interface Trust {
  /** Of ICP after cleaning, over the period. */
  readonly knownShare: number;
  readonly suspectHours: number;
  readonly suspect: readonly SuspectStretch[];
  readonly cannotSay: readonly ('littleKnown' | 'longSuspect')[];
}

/** Suspect stretches of ICP in the period; those that overlap are told as one. */
function suspectStretches(marks: readonly Mark[], period: Interval): SuspectStretch[] {
  const removed = unite(marks.filter(({ grade }) => grade === 'removed'));
  const suspect = marks.filter(({ grade }) => grade === 'suspect');
  const stretches = intersect(subtract(unite(suspect), removed), [period]);
  return stretches.map((stretch) => {
    const behind = suspect.filter((mark) => mark.start < stretch.end && stretch.start < mark.end);
    return {
      ...stretch,
      rules: [...new Set(behind.map(({ rule }) => rule))],
      direction: behind.some(({ direction }) => direction === 'down') ? 'down' : 'up',
    };
  });
}

/** Judges the trust in ICP over the period from its marks and the hours that cleaning left. */
export function trustIn(marks: readonly Mark[], knownHours: number, period: Interval): Trust {
  const suspect = suspectStretches(
    marks.filter(({ channel }) => channel === 'icp'),
    period,
  );
  const suspectHours = totalMs(suspect) / HOUR_MS;
  const knownShare = knownHours / (lengthMs(period) / HOUR_MS);
  const cannotSay: ('littleKnown' | 'longSuspect')[] = [];
  if (knownShare < LEAST_KNOWN_SHARE) cannotSay.push('littleKnown');
  if (suspectHours >= MOST_SUSPECT_HOURS) cannotSay.push('longSuspect');
  return { knownShare, suspectHours, suspect, cannotSay };
}
