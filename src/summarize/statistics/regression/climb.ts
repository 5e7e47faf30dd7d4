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
  /** Minus the second derivatives, where they are something else; steps by them are better where it is positive definite. */
  readonly curvature?: Matrix;
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
/**
 * Where a step would raise the likelihood by no more than this share of it, rounding hides which way is up: that is the
 * top where steps are under `STILL` and grow no smaller, and separation where they stay large and may be that.
 */
const ROUNDING = 1e-15;
const STILL = 0.01;
/** No step changes log odds by more: where one leads too far, the way back is flat. */
const LONGEST = 10;
/** Gains smaller than this share of the largest count as none when separation is looked for. */
const NO_GAIN = 1e-6;
/** So many more once some are parted; each adds 1 or so to log odds. */
const STEPS_TO_PART_ALL = 25;
const MOST_STEPS = 1000;
/** Shares of the largest information that are added on the diagonal, one after the other. */
const DAMPING = [1e-12, 1e-9, 1e-6, 1e-3, 1];
const MOST_HALVINGS = 40;

/**
 * The highest place of a likelihood by Newton's steps, each halved until it leads up. Where predictors separate the
 * outcome there is none: then each step adds about as much to the log odds as the one before, and its direction comes to
 * be one in which no patient's outcome becomes less likely, which is looked for. Source of what separation is: Albert &
 * Anderson, Biometrika 1984;71:1-10.
 *
 * @param held the place along this axis stays as it is, on a hill whose highest place is known
 * @returns null where the steps lead nowhere
 */
export function climb(hill: Hill, start: Float64Array, held?: number): Summit | Separation | null {
  let place: Float64Array = start.slice();
  let height = hill.at(place);
  // A likelihood that has a highest place has one on each of its cuts.
  const canPart = hill.canBeEndless && held === undefined;
  let partedAt: number | null = null;
  let before = Number.POSITIVE_INFINITY;
  for (let steps = 1; height !== null && steps <= MOST_STEPS; steps++) {
    const step = newtonStep(height, held);
    if (step === null) break;
    const gains = hill.gains(step);
    const largest = largestOf(gains);
    const rise = step.reduce((sum, x, k) => sum + x * height!.slope[k], 0);
    const isHidden = partedAt === null && rise <= ROUNDING * (1 + Math.abs(height.value));
    const isStill = largest > before / 2 && (largest <= STILL || !canPart);
    if (largest <= NEAR || (isHidden && isStill)) {
      place = place.map((x, k) => x + step[k]);
      return { place, value: height.value, information: height.information, steps };
    }
    if (canPart) {
      const parting = separationBy(gains);
      if (parting === 'complete') return parting;
      if (parting !== null || isHidden) partedAt ??= steps;
      if (partedAt !== null) {
        // Those that this direction leaves on the border may be parted by another, which later steps come to.
        if (separationBy(hill.gains(place)) === 'complete') return 'complete';
        if (steps - partedAt >= STEPS_TO_PART_ALL) break;
      }
    }
    const share = Math.min(1, LONGEST / largest);
    const next = higher(hill, place, height.value, step, share);
    if (next === null) break;
    [place, height] = next;
    before = largest;
  }
  return partedAt === null ? null : 'quasi-complete';
}

function largestOf(gains: Float64Array): number {
  let largest = 0;
  for (const gain of gains) if (Math.abs(gain) > largest) largest = Math.abs(gain);
  return largest;
}

/** What a direction parts, by what it adds to the log odds of each outcome. */
function separationBy(gains: Float64Array): Separation | null {
  const none = NO_GAIN * largestOf(gains);
  let isComplete = true;
  for (const gain of gains) {
    if (gain < -none) return null;
    if (gain <= none) isComplete = false;
  }
  return isComplete ? 'complete' : 'quasi-complete';
}

/** Information to the power of -1, times the slope. */
function newtonStep({ slope, information, curvature }: Height, held?: number): Float64Array | null {
  const free = Array.from(slope.keys()).filter((k) => k !== held);
  if (free.length === 0) return new Float64Array(slope.length);
  const by = (matrix: Matrix): Float64Array | null =>
    stepBy(held === undefined ? matrix : matrix.selection(free, free), slope, free);
  const step = (curvature && by(curvature)) ?? by(information);
  if (step !== null) return step;
  // Far out, where no outcome is in doubt, rounding leaves information that is not positive definite: then a step that is
  // more and more one straight up the slope.
  const most = Math.max(...information.diagonal());
  for (const share of DAMPING) {
    const damped = by(Matrix.add(information, Matrix.eye(slope.length, slope.length, share * most)));
    if (damped !== null) return damped;
  }
  return null;
}

/** The matrix to the power of -1, times the slope; null where it is not positive definite. */
function stepBy(matrix: Matrix, slope: Float64Array, free: readonly number[]): Float64Array | null {
  const roots = new CholeskyDecomposition(matrix);
  if (!roots.isPositiveDefinite()) return null;
  const solved = roots.solve(Matrix.columnVector(free.map((k) => slope[k])));
  const step = new Float64Array(slope.length);
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
  atMost: number,
): [Float64Array, Height] | null {
  const rounding = 1e-12 * (1 + Math.abs(value));
  let share = atMost;
  for (let i = 0; i < MOST_HALVINGS; i++, share /= 2) {
    const next = place.map((x, k) => x + share * step[k]);
    const height = hill.at(next);
    if (height !== null && height.value >= value - rounding) return [next, height];
  }
  return null;
}
