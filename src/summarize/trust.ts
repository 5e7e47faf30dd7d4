import type { Mark } from '../clean/rule.js';
import { type Interval, intersect, lengthMs, subtract, totalMs, unite } from '../recording/interval.js';
import { HOUR_MS } from './hour.js';

/** Known for less than this share of the period, or suspect for this long: nobody can say how the patient was. */
const LEAST_KNOWN_SHARE = 0.5;
const MOST_SUSPECT_HOURS = 0.5;
/** A suspect stretch is told as one across removals up to this length; they do not count in its hours. */
const BRIDGED_MS = 10 * 60_000;

/** A stretch in which the probe may not have measured the patient. */
export interface SuspectStretch extends Interval {
  /** Rules that saw it, in their order. */
  readonly rules: readonly string[];
  /** Who called it suspect, where a person did. */
  readonly decidedBy: readonly string[];
  /** Downward ones are left out of the headline figures, upward ones stay in. */
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

/** Suspect stretches of ICP in the period, by start; those that overlap and count the same way are told as one. */
function suspectStretches(
  suspect: readonly Mark[],
  removed: readonly Interval[],
  period: Interval,
): SuspectStretch[] {
  const isDown = ({ direction }: Mark): boolean => direction === 'down';
  const downward = unite(suspect.filter(isDown));
  // Where both were seen the stretch is left out, as the headline figures have it.
  const upward = subtract(unite(suspect.filter((mark) => !isDown(mark))), downward);
  const told = (stretches: readonly Interval[], direction: 'down' | 'up'): SuspectStretch[] =>
    stretches
      .flatMap((stretch) => acrossShortRemovals(stretch, removed))
      .flatMap((stretch) => intersect([stretch], [period]))
      .map((stretch) => {
        const behind = suspect.filter(
          (mark) =>
            isDown(mark) === (direction === 'down') && mark.start < stretch.end && stretch.start < mark.end,
        );
        return {
          ...stretch,
          rules: [...new Set(behind.map(({ rule }) => rule))],
          decidedBy: [...new Set(behind.flatMap(({ decidedBy }) => decidedBy ?? []))],
          direction,
        };
      });
  return [...told(downward, 'down'), ...told(upward, 'up')].sort((a, b) => a.start - b.start);
}

/** What is left of a stretch beside what was removed; a removed cough or two inside do not part it. */
function acrossShortRemovals(stretch: Interval, removed: readonly Interval[]): Interval[] {
  const parts: { start: number; end: number }[] = [];
  for (const { start, end } of subtract([stretch], removed)) {
    const last = parts.at(-1);
    if (last && start - last.end <= BRIDGED_MS) last.end = end;
    else parts.push({ start, end });
  }
  return parts;
}

/** Judges the trust in ICP over the period from its marks and the hours that cleaning left. */
export function trustIn(marks: readonly Mark[], knownHours: number, period: Interval): Trust {
  const ofIcp = marks.filter(({ channel }) => channel === 'icp');
  const suspectMarks = ofIcp.filter(({ grade }) => grade === 'suspect');
  const removed = unite(ofIcp.filter(({ grade }) => grade === 'removed'));
  const suspectHours = totalMs(intersect(subtract(unite(suspectMarks), removed), [period])) / HOUR_MS;
  const suspect = suspectStretches(suspectMarks, removed, period);
  // A single row makes a period of no length, of which nothing is known.
  const knownShare = lengthMs(period) > 0 ? knownHours / (lengthMs(period) / HOUR_MS) : 0;
  const cannotSay: ('littleKnown' | 'longSuspect')[] = [];
  if (knownShare < LEAST_KNOWN_SHARE) cannotSay.push('littleKnown');
  if (suspectHours >= MOST_SUSPECT_HOURS) cannotSay.push('longSuspect');
  return { knownShare, suspectHours, suspect, cannotSay };
}
