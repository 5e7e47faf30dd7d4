import { CholeskyDecomposition, Matrix } from 'ml-matrix';

/** How predictors part patients by their outcome: `complete` all of them, `quasi-complete` some, and none the other way. */
export type Separation = 'complete' | 'quasi-complete';

/** A likelihood at one place. */
export interface Height {
  readonly value: number;
  /** Its derivatives. */
  readonly slope: Float64Array;
  /** Positive definite: minus its second derivatives, or what stands for them. */
  readonly information: Matrix;
}

/** A likelihood with one highest place. */
export interface Hill {
  /** Null where it has no value. */
  at(place: Float64Array): Height | null;
  /**
   * How a step changes the log odds that the outcome of each patient rests on; positive where the step makes it likelier.
   */
  gains(step: Float64Array): Float64Array;
  /** Whether the highest place may be infinitely far away, in a direction in which no gain is negative. */
  readonly canBeEndless: boolean;
}

export interface Summit {
  readonly place: Float64Array;
  readonly value: number;
  readonly information: Matrix;
  readonly steps: number;
}

/** At the top where a step would change no log odds by more; the step is taken still. */
const NEAR = 1e-8;
/** Gains smaller than this share of the largest count as none when separation is looked for. */
const NO_GAIN = 1e-6;
const MOST_STEPS = 1000;
const MOST_HALVINGS = 40;

/**
 * The highest place of a likelihood by Newton's steps, each halved until it leads up. Where predictors separate the
 * outcome there is none: then each step adds about as much to the log odds as the one before, and its direction comes to
 * be one in which no patient's outcome becomes less likely, which is looked for. Source of what separation is: Albert &
 * Anderson, Biometrika 1984;71:1-10.
 *
 * @param held the place along this axis stays as it is
 * @returns null where the steps lead nowhere
 */
export function climb(hill: Hill, start: Float64Array, held?: number): Summit | Separation | null {
  let place: Float64Array = start.slice();
  let height = hill.at(place);
  for (let steps = 1; height !== null && steps <= MOST_STEPS; steps++) {
    const step = newtonStep(height, held);
    if (step === null) return null;
    const gains = hill.gains(step);
    let [least, largest] = [Number.POSITIVE_INFINITY, 0];
    for (const gain of gains) {
      if (gain < least) least = gain;
      if (Math.abs(gain) > largest) largest = Math.abs(gain);
    }
    if (largest <= NEAR) {
      place = place.map((x, k) => x + step[k]);
      return { place, value: height.value, information: height.information, steps };
    }
    if (hill.canBeEndless) {
      if (least >= -NO_GAIN * largest) return least > NO_GAIN * largest ? 'complete' : 'quasi-complete';
    }
    const next = higher(hill, place, height.value, step);
    if (next === null) return null;
    [place, height] = next;
  }
  return null;
}

/** Information to the power of -1, times the slope. */
function newtonStep({ slope, information }: Height, held?: number): Float64Array | null {
  const free = Array.from(slope.keys()).filter((k) => k !== held);
  const step = new Float64Array(slope.length);
  if (free.length === 0) return step;
  const part = held === undefined ? information : information.selection(free, free);
  const roots = new CholeskyDecomposition(part);
  if (!roots.isPositiveDefinite()) return null;
  const solved = roots.solve(Matrix.columnVector(free.map((k) => slope[k])));
  free.forEach((k, i) => {
    step[k] = solved.get(i, 0);
  });
  return step.every(Number.isFinite) ? step : null;
}

function higher(
  hill: Hill,
  place: Float64Array,
  value: number,
  step: Float64Array,
): [Float64Array, Height] | null {
  const rounding = 1e-12 * (1 + Math.abs(value));
  let share = 1;
  for (let i = 0; i < MOST_HALVINGS; i++, share /= 2) {
    const next = place.map((x, k) => x + share * step[k]);
    const height = hill.at(next);
    if (height !== null && height.value >= value - rounding) return [next, height];
  }
  return null;
}
