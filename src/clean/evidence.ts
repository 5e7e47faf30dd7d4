import type { CareEntry, CareKind } from '../recording/care.js';
import type { Interval } from '../recording/interval.js';
import { type Recording, rawSignal } from '../recording/recording.js';
import { median } from '../recording/rolling-median.js';
import { samplesOver } from './median-over.js';
import { NORMAL } from './robust-spread.js';
import type { Evidence } from './rule.js';

/** MAP may lead or lag by so much where it is sampled apart. */
const SLACK_MS = 2_000;
const BEFORE_MS = 60_000;
/** A smaller rise of MAP is its usual scatter. */
const LEAST_MMHG = 5;

/** Beyond so many standard deviations of the minute before, a rise is more than MAP does by itself. */
const LEAST_DEVIATIONS = 3;
/** One sample of a quarter hour may be high by chance: a quarter of the samples has to be. */
const HIGH_SHARE = 0.75;

/**
 * How far MAP rose over its median of the minute before, in the same seconds, mmHg: the upper quartile of its samples.
 * Undefined where it rose by less than 5 mmHg or than three times its own scatter, or is not known.
 */
export function mapRiseOver(recording: Recording, { start, end }: Interval): number | undefined {
  const map = rawSignal(recording, 'map');
  const inside = samplesOver(map, start - SLACK_MS, end + SLACK_MS);
  if (inside.length === 0) return undefined;
  const before = samplesOver(map, start - BEFORE_MS, start - SLACK_MS);
  if (before.length === 0) return undefined;
  const level = median(before);
  const rise = inside.slice().sort()[Math.ceil(HIGH_SHARE * inside.length) - 1] - level;
  const scatter = NORMAL * median(downward(before, level));
  return rise >= Math.max(LEAST_MMHG, LEAST_DEVIATIONS * scatter) ? rise : undefined;
}

/** How far samples lie under their level: what lies over it may be the cough before. */
const downward = (values: Float64Array, level: number): Float64Array =>
  values.filter((value) => value <= level).map((value) => level - value);

/** Entries of the care log that tell of any of the kinds; none where no log was given. */
export const entriesOf = (
  { care = [] }: Pick<Recording, 'care'>,
  ...kinds: readonly CareKind[]
): CareEntry[] => care.filter((entry) => kinds.some((kind) => entry.kinds.includes(kind)));

/** What an entry speaks for, as a mark carries it. */
export const careEvidence = (entry: CareEntry, ...kinds: readonly CareKind[]): Evidence['care'] => {
  const kind = entry.kinds.find((one) => kinds.includes(one));
  return kind && { kind, at: entry.start };
};
