import { insist } from '../statistics/estimate.js';
import type { OnsetLags, PatientAudit } from './patient-audit.js';

/** A pile reaches so far to both sides of its middle, seconds. Own convention. */
const HALF_PILE = 10;
/** Another pile has to lie so far from one, seconds: what is nearer may be its foot. Own convention. */
const APART = 60;
/** Fewer alarms show nothing. Own convention. */
const LEAST_ALARMS = 20;
/** What a pile holds beyond chance: of the compared alarms, in pairs, and as a multiple of chance's own spread. Own conventions. */
const LEAST_SHARE = 0.1;
const LEAST_PAIRS = 10;
const LEAST_SPREADS = 8;
/** A pile stands out where it holds so many times more beyond chance than the next one. Own convention. */
const LEAST_TIMES = 2;
/**
 * An alarm that follows its crossing by so many seconds is as usual: monitors average and wait, and may be a little ahead
 * of what was exported. Own convention; the span in which an alarm is judged.
 */
const USUAL = { from: -10, to: 60 } as const;
const HALF_HOUR = 1800;

/** Between which offsets an alarm is as usual, seconds. */
interface Usual {
  readonly from: number;
  readonly to: number;
}

const isWithin = (seconds: number, { from, to }: Usual): boolean => seconds >= from && seconds <= to;

/** Many alarms that follow a crossing by the same time. */
export interface Pile {
  /** Median of onset minus crossing, whole seconds; what the monitor averages and waits is in it. */
  readonly offsetSeconds: number;
  /** Pairs in it, as a share of the alarms that were compared; 1 at most. */
  readonly share: number;
  /** The same as chance alone would have it, which spreads over the whole reach. */
  readonly chanceShare: number;
}

/**
 * What the clocks look like. `tooFew` alarms; `none` stands out; `together`: one pile as usual; `hours`: one that is whole
 * or half hours off what is usual; `apart`: one elsewhere; `two`: two piles, so that a part of the alarms has another clock.
 */
export type ClockReading =
  | { readonly is: 'tooFew' | 'none'; readonly alarms: number; readonly piles: readonly [] }
  | { readonly is: 'together' | 'apart'; readonly alarms: number; readonly piles: readonly [Pile] }
  | {
      readonly is: 'hours';
      readonly alarms: number;
      readonly piles: readonly [Pile];
      /** What the clocks are apart, without the usual delay: of whole or half hours, seconds. */
      readonly apartSeconds: number;
    }
  | { readonly is: 'two'; readonly alarms: number; readonly piles: readonly [Pile, Pile] };

/** Middles of the three highest piles, well apart from each other. */
function highest(counts: ArrayLike<number>): number[] {
  const heights = Array.from({ length: counts.length }, (_, middle) => {
    let sum = 0;
    for (let d = -HALF_PILE; d <= HALF_PILE; d++)
      sum += (HALF_PILE + 1 - Math.abs(d)) * (counts[middle + d] ?? 0);
    return sum;
  });
  const middles: number[] = [];
  for (let k = 0; k < 3; k++) {
    let best = -1;
    heights.forEach((height, i) => {
      const isFree = middles.every((middle) => Math.abs(middle - i) > APART);
      if (isFree && height > 0 && (best < 0 || height > heights[best])) best = i;
    });
    if (best >= 0) middles.push(best);
  }
  return middles;
}

const pairsAround = (counts: ArrayLike<number>, middle: number): number => {
  let sum = 0;
  for (let d = -HALF_PILE; d <= HALF_PILE; d++) sum += counts[middle + d] ?? 0;
  return sum;
};

/**
 * What a pile holds by chance, and by how much that varies: over the stretches as wide as a pile that lie outside of two.
 * It varies by no less than counts of what is independent do; bursts of crossings and of alarms let it vary by more.
 */
function chanceOf(counts: ArrayLike<number>, piles: readonly number[]): { chance: number; spread: number } {
  const sums: number[] = [];
  for (let middle = HALF_PILE; middle + HALF_PILE < counts.length; middle += 2 * HALF_PILE + 1) {
    if (piles.every((pile) => Math.abs(pile - middle) > 2 * HALF_PILE))
      sums.push(pairsAround(counts, middle));
  }
  if (sums.length === 0) return { chance: 0, spread: 0 };
  const chance = sums.reduce((total, n) => total + n, 0) / sums.length;
  const variance = sums.reduce((total, n) => total + (n - chance) ** 2, 0) / sums.length;
  return { chance, spread: Math.sqrt(Math.max(chance, variance)) };
}

function medianAround(counts: ArrayLike<number>, middle: number, pairs: number): number {
  let below = 0;
  for (let i = middle - HALF_PILE; i < middle + HALF_PILE; i++) {
    below += counts[i] ?? 0;
    if (below >= pairs / 2) return i;
  }
  return middle + HALF_PILE;
}

/** Whole or half hours that the clocks are apart, seconds, where an offset is that off what is usual; else 0. */
function hoursApart(offsetSeconds: number, usual: Usual): number {
  const middle = (usual.from + usual.to) / 2;
  const apart = Math.round((offsetSeconds - middle) / HALF_HOUR) * HALF_HOUR;
  return isWithin(offsetSeconds - apart, usual) ? apart : 0;
}

/**
 * Looks whether the clocks of the alarm log and of the monitor's export are apart: where many alarms follow a crossing of
 * their own limit by the same time, that time is the delay of the alarm and what the clocks are apart, both in one. What
 * an alarm has to do with other crossings spreads over the whole reach, as chance does; waves that repeat themselves make
 * several piles, and then none stands out.
 *
 * @param delaySeconds for which the monitors are set to wait: so much later is as usual too
 */
export function readClock({ reachSeconds, counts, alarms }: OnsetLags, delaySeconds = 0): ClockReading {
  if (alarms < LEAST_ALARMS) return { is: 'tooFew', alarms, piles: [] };
  const middles = highest(counts);
  const pairs = middles.map((middle) => pairsAround(counts, middle));
  const { chance, spread } = chanceOf(counts, middles.slice(0, 2));
  const beyond = (k: number): number => Math.max(0, (pairs[k] ?? 0) - chance);
  const isLarge = (k: number): boolean =>
    beyond(k) >= Math.max(LEAST_SHARE * alarms, LEAST_PAIRS, LEAST_SPREADS * spread);
  const pile = (k: number): Pile => ({
    offsetSeconds: medianAround(counts, middles[k], pairs[k]) - reachSeconds,
    share: Math.min(1, pairs[k] / alarms),
    chanceShare: Math.min(1, chance / alarms),
  });
  if (isLarge(0) && beyond(0) >= LEAST_TIMES * beyond(1)) {
    const one = pile(0);
    const piles = [one] as const;
    const usual = { from: USUAL.from, to: USUAL.to + delaySeconds };
    const apartSeconds = hoursApart(one.offsetSeconds, usual);
    if (apartSeconds !== 0) return { is: 'hours', alarms, piles, apartSeconds };
    const { offsetSeconds } = one;
    const isUsual = isWithin(offsetSeconds, usual);
    return { is: isUsual ? 'together' : 'apart', alarms, piles };
  }
  if (isLarge(0) && isLarge(1) && beyond(1) >= LEAST_TIMES * beyond(2))
    return { is: 'two', alarms, piles: [pile(0), pile(1)] };
  return { is: 'none', alarms, piles: [] };
}

/** The lags of all patients as one; null where there is no patient. */
export function joinLags(patients: readonly PatientAudit[]): OnsetLags | null {
  if (patients.length === 0) return null;
  const { reachSeconds, counts } = patients[0].lags;
  const sum = new Uint32Array(counts.length);
  let alarms = 0;
  for (const { lags } of patients) {
    insist(lags.counts.length === sum.length && lags.reachSeconds === reachSeconds, 'lags of one reach');
    lags.counts.forEach((n, i) => {
      sum[i] += n;
    });
    alarms += lags.alarms;
  }
  return { reachSeconds, counts: sum, alarms };
}

/** A patient whose own alarms tell of another clock. */
export interface OwnClock {
  readonly patient: string;
  readonly reading: ClockReading;
}

/**
 * The patients whose own alarms pile up elsewhere than those of the unit do, or than is usual where the unit's show no one
 * pile: one monitor may have another clock.
 */
export function ownClocks(
  patients: readonly PatientAudit[],
  ofUnit: ClockReading,
  delaySeconds = 0,
): OwnClock[] {
  const unitSeconds = ofUnit.piles.length === 1 ? ofUnit.piles[0].offsetSeconds : null;
  const isElsewhere = ({ is, piles }: ClockReading): boolean =>
    unitSeconds === null
      ? piles.length > 0 && is !== 'together'
      : piles.some(({ offsetSeconds }) => Math.abs(offsetSeconds - unitSeconds) > APART + delaySeconds);
  return patients
    .map(({ id, lags }) => ({ patient: id, reading: readClock(lags, delaySeconds) }))
    .filter(({ reading }) => isElsewhere(reading));
}
