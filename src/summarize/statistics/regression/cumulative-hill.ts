import { Matrix } from 'ml-matrix';
import type { Height, Hill } from './climb.js';
import type { Design } from './design.js';
import { logistic, logisticDensity, softplus } from './logit-hill.js';

/**
 * The likelihood of proportional odds: the log odds of a category of at most j are cut j less what the predictors add up
 * to. Axes are the cuts, rising, and then the slopes of the design. With two categories it is that of a logistic
 * regression whose intercept is minus the cut.
 */
export class CumulativeHill implements Hill {
  readonly canBeEndless = true;
  private readonly cuts: number;

  /** @param ranks category of each row of the design, from 0 to `categories` - 1 */
  constructor(
    private readonly design: Design,
    private readonly ranks: Uint32Array,
    categories: number,
  ) {
    this.cuts = categories - 1;
  }

  at(place: Float64Array): Height | null {
    const { cuts } = this;
    const { weights, width, cells } = this.design;
    for (let j = 1; j < cuts; j++) if (!(place[j] > place[j - 1])) return null;
    const size = cuts + width;
    const slope = new Float64Array(size);
    const rows = Array.from({ length: size }, () => new Float64Array(size));
    const sums = this.sums(place);
    let value = 0;
    for (let r = 0; r < weights.length; r++) {
      const [rank, weight] = [this.ranks[r], weights[r]];
      const [hasUpper, hasLower] = [rank < cuts, rank > 0];
      const upper = hasUpper ? place[rank] - sums[r] : Number.POSITIVE_INFINITY;
      const lower = hasLower ? place[rank - 1] - sums[r] : Number.NEGATIVE_INFINITY;
      // Its chance is F(upper) (1 - F(lower)) (1 - e^(lower - upper)), F being the logistic: no difference cancels.
      const [above, below] = [logistic(-upper), logistic(lower)];
      const between = hasUpper && hasLower ? 1 / Math.expm1(upper - lower) : 0;
      value -= weight * (softplus(-upper) + softplus(lower) + Math.log1p(between));
      const [bendUpper, bendLower] = [
        hasUpper ? logisticDensity(upper) : 0,
        hasLower ? logisticDensity(lower) : 0,
      ];
      const bend = between * (1 + between);
      if (hasUpper) {
        slope[rank] += weight * (above + between);
        rows[rank][rank] += weight * (bendUpper + bend);
      }
      if (hasLower) {
        slope[rank - 1] -= weight * (below + between);
        rows[rank - 1][rank - 1] += weight * (bendLower + bend);
      }
      if (hasUpper && hasLower) rows[rank][rank - 1] -= weight * bend;
      for (let a = 0; a < width; a++) {
        const cell = weight * cells[r * width + a];
        const row = rows[cuts + a];
        slope[cuts + a] += cell * (below - above);
        if (hasUpper) row[rank] -= cell * bendUpper;
        if (hasLower) row[rank - 1] -= cell * bendLower;
        for (let b = 0; b <= a; b++) row[cuts + b] += cell * cells[r * width + b] * (bendUpper + bendLower);
      }
    }
    if (!Number.isFinite(value)) return null;
    const information = Matrix.zeros(size, size);
    for (let a = 0; a < size; a++) {
      for (let b = 0; b < size; b++) information.set(a, b, rows[Math.max(a, b)][Math.min(a, b)]);
    }
    return { value, slope, information };
  }

  /** Those of the cut above each row's category, and of the cut below it; 0 where there is none. */
  gains(step: Float64Array): Float64Array {
    const { cuts, ranks } = this;
    const sums = this.sums(step);
    const gains: number[] = [];
    for (let r = 0; r < sums.length; r++) {
      if (ranks[r] < cuts) gains.push(step[ranks[r]] - sums[r]);
      if (ranks[r] > 0) gains.push(sums[r] - step[ranks[r] - 1]);
    }
    return Float64Array.from(gains);
  }

  private sums(place: Float64Array): Float64Array {
    const { weights, width, cells } = this.design;
    const sums = new Float64Array(weights.length);
    for (let r = 0; r < sums.length; r++) {
      for (let k = 0; k < width; k++) sums[r] += place[this.cuts + k] * cells[r * width + k];
    }
    return sums;
  }
}
