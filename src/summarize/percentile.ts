import type { Interval } from '../recording/interval.js';
import { type CutPiece, piecesWithin } from '../recording/pieces.js';
import type { Signal } from '../recording/signal.js';
import { placesIn, placesOf, type ValuePlaces } from '../recording/value-places.js';

/** Values this close, mmHg, differ by rounding only: a slope between them would drown all others in the sums. */
const ALIKE = 1e-7;
/** With more different values than this it takes less to sort those of a window than to step over all others. */
const MOST_SHARED = 4096;

/** What happens to x at one value: how much time it spends exactly there, and how the density of its time changes. */
interface Turn {
  readonly value: number;
  readonly atom: number;
  readonly slope: number;
}

/** Turns of a piece that an edge of the window cuts: its ends are values of their own. */
function turnsOfCut({ t0, x0, t1, x1 }: CutPiece): Turn[] {
  const rise = Math.abs(x1 - x0);
  if (rise <= ALIKE) return [{ value: x0, atom: t1 - t0, slope: 0 }];
  const slope = (t1 - t0) / rise;
  return [
    { value: Math.min(x0, x1), atom: 0, slope },
    { value: Math.max(x0, x1), atom: 0, slope: -slope },
  ];
}

/** By value, each value once. */
function joined(turns: Turn[]): Turn[] {
  const sorted = turns.sort((a, b) => a.value - b.value);
  const once: Turn[] = [];
  for (const turn of sorted) {
    const last = once.at(-1);
    if (last?.value !== turn.value) once.push(turn);
    else once[once.length - 1] = { ...last, atom: last.atom + turn.atom, slope: last.slope + turn.slope };
  }
  return once;
}

/** How x spends its time over its values: sums over pieces that can be added to those of another window. */
export class ValueTimes {
  private readonly atoms: Float64Array;
  private readonly slopes: Float64Array;
  private readonly cut: CutPiece[] = [];
  private totalMs = 0;
  /** The places that were met. */
  private lowest = Number.POSITIVE_INFINITY;
  private highest = -1;

  /**
   * @param places of the signal's values
   * @param offset sample of the signal that the first place belongs to
   */
  constructor(
    readonly places: ValuePlaces,
    private readonly offset = 0,
  ) {
    this.atoms = new Float64Array(places.distinct.length);
    this.slopes = new Float64Array(places.distinct.length);
  }

  /** Adds the pieces from sample `first` to sample `last` that are known. */
  addPieces({ times, values, known }: Signal, first: number, last: number): void {
    const { atoms, slopes, offset } = this;
    const { places } = this.places;
    let ms = 0;
    let { lowest, highest } = this;
    for (let i = first; i < last; i++) {
      if (known[i] === 0) continue;
      const width = times[i + 1] - times[i];
      ms += width;
      const from = places[i - offset];
      if (from < lowest) lowest = from;
      if (from > highest) highest = from;
      const rise = values[i + 1] - values[i];
      if (rise > ALIKE || rise < -ALIKE) {
        const to = places[i + 1 - offset];
        if (to < lowest) lowest = to;
        if (to > highest) highest = to;
        // Negative where x falls, which changes both signs and is right at both ends.
        const density = width / rise;
        slopes[from] += density;
        slopes[to] -= density;
      } else atoms[from] += width;
    }
    this.totalMs += ms;
    this.lowest = lowest;
    this.highest = highest;
  }

  addCut(piece: CutPiece): void {
    this.cut.push(piece);
    this.totalMs += piece.t1 - piece.t0;
  }

  /** Adds those of another window of the same signal. */
  add(other: ValueTimes): void {
    this.lowest = Math.min(this.lowest, other.lowest);
    this.highest = Math.max(this.highest, other.highest);
    for (let i = other.lowest; i <= other.highest; i++) {
      this.atoms[i] += other.atoms[i];
      this.slopes[i] += other.slopes[i];
    }
    this.cut.push(...other.cut);
    this.totalMs += other.totalMs;
  }

  /** The value under which x spends the share `p` of the time; see `timeWeightedPercentile`. */
  percentile(p: number): number {
    const { atoms, slopes, cut } = this;
    const { distinct } = this.places;
    const turns: Turn[] = [];
    for (let i = this.lowest; i <= this.highest; i++) {
      if (atoms[i] === 0 && slopes[i] === 0) continue;
      turns.push({ value: distinct[i], atom: atoms[i], slope: slopes[i] });
    }
    const all = cut.length === 0 ? turns : joined([...turns, ...cut.flatMap(turnsOfCut)]);
    return percentileOf(all, this.totalMs, p);
  }
}

/** Places by which windows of a signal can be added up; null where it has too many different values for that. */
export function sharedPlaces({ values }: Signal): ValuePlaces | null {
  const places = placesOf(values);
  return places.distinct.length <= MOST_SHARED ? places : null;
}

/**
 * The value under which x spends the share `p` (0 to 1) of the monitored time, exact for the piecewise linear x(t):
 * a sloping piece spreads its length evenly over its values, a flat one puts it on one value.
 *
 * @returns NaN where nothing is known; the middle of the gap where the share falls between two values
 */
export function timeWeightedPercentile(signal: Signal, window: Interval, p: number): number {
  const { first, last, cut } = piecesWithin(signal, window);
  const isMost = last - first >= signal.values.length / 4;
  const shared = isMost ? placesOf(signal.values) : sharedPlaces(signal);
  const times = shared
    ? new ValueTimes(shared)
    : new ValueTimes(placesIn(signal.values.slice(first, last + 1)), first);
  times.addPieces(signal, first, last);
  cut.forEach((piece) => {
    times.addCut(piece);
  });
  return times.percentile(p);
}

/** The percentile of time whose turns by value are given. */
function percentileOf(turns: readonly Turn[], total: number, p: number): number {
  if (total === 0) return Number.NaN;
  const target = p * total;
  // Sums of many lengths: a share that is met to this much counts as met.
  const slack = total * 1e-12;
  let below = 0;
  let density = 0;
  for (let i = 0; i < turns.length; i++) {
    const { value, atom, slope } = turns[i];
    below += atom;
    density += slope;
    if (below >= target + slack || i + 1 === turns.length) return value;
    const next = turns[i + 1].value;
    const room = Math.max(0, density) * (next - value);
    if (below + slack >= target) {
      // Exactly the share lies at or under this value; without time in between, the gap is split.
      return room > slack ? value : (value + next) / 2;
    }
    if (below + room >= target) return value + (target - below) / density;
    below += room;
  }
  return Number.NaN;
}
