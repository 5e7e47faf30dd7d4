import type { Interval } from '../recording/interval.js';
import { intervalsAt, maxGapMs } from '../recording/sampling.js';

/** A stretch over which samples come at one rate. */
export interface RateStretch extends Interval {
  readonly intervalMs: number;
}

/** How the samples of a channel stand in time. */
export interface SamplingAccount {
  readonly stretches: readonly RateStretch[];
  /** Distances longer than x(t) is known over. */
  readonly gaps: readonly Interval[];
  /** Share of the spacings, gaps left out, that are off the nominal interval by more than a tenth. */
  readonly unevenShare: number;
}

/** Rates closer than this, as a ratio, are the same one. */
const SAME_RATE = 1.25;
/** An off spacing differs from the nominal interval by more than this share. */
const EVEN = 0.1;
/** A rate that lasts for fewer spacings is no stretch of its own. */
const LEAST_SPACINGS = 21;

const isSameRate = (a: number, b: number): boolean => Math.max(a, b) <= SAME_RATE * Math.min(a, b);

/** Describes the sampling of a channel: the nominal interval per stretch, gaps, jitter. `times` rise. */
export function samplingAccount(times: Float64Array): SamplingAccount {
  const nominal = intervalsAt(times);
  const stretches: (RateStretch & { spacings: number })[] = [];
  const gaps: Interval[] = [];
  let uneven = 0;
  for (let i = 0; i < nominal.length; i++) {
    const [start, end] = [times[i], times[i + 1]];
    const isGap = end - start > maxGapMs(nominal[i]);
    if (isGap) gaps.push({ start, end });
    else if (Math.abs(end - start - nominal[i]) > EVEN * nominal[i]) uneven++;
    const open = stretches.at(-1);
    if (open && isSameRate(open.intervalMs, nominal[i])) {
      stretches[stretches.length - 1] = { ...open, end, spacings: open.spacings + 1 };
    } else stretches.push({ start, end, intervalMs: nominal[i], spacings: 1 });
  }
  const steady = stretches.filter(({ spacings }) => spacings >= LEAST_SPACINGS);
  const joined: RateStretch[] = [];
  for (const { start, end, intervalMs } of steady.length > 0 ? steady : stretches.slice(0, 1)) {
    const before = joined.at(-1);
    if (before && isSameRate(before.intervalMs, intervalMs)) joined[joined.length - 1] = { ...before, end };
    else joined.push({ start, end, intervalMs });
  }
  const spacings = nominal.length - gaps.length;
  return { stretches: joined, gaps, unevenShare: spacings > 0 ? uneven / spacings : 0 };
}
