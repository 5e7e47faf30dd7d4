/** Sums over the pairs of one lag, from which its correlation is made. */
interface LagSums {
  pairs: number;
  xy: number;
  xx: number;
  yy: number;
}

/** How two series go together at each lag; entry `most + k` is that of y taken k bins later than x. */
export interface CrossCorrelation {
  /** Correlation about zero, over the bins that are known in both. */
  readonly r: Float64Array;
  readonly pairs: Uint32Array;
}

/** A series with 0 where it is not known, its square, and whether it is known. */
interface Filled {
  readonly x: Float64Array;
  readonly square: Float64Array;
  readonly isKnown: Uint8Array;
}

function filled(series: Float64Array): Filled {
  const x = series.map((value) => (Number.isNaN(value) ? 0 : value));
  return {
    x,
    square: x.map((value) => value * value),
    isKnown: Uint8Array.from(series, (v) => (Number.isNaN(v) ? 0 : 1)),
  };
}

function sumsAt(a: Filled, b: Filled, lag: number, start: number, end: number): LagSums {
  let [pairs, xy, xx, yy] = [0, 0, 0, 0];
  const from = Math.max(start, -lag);
  const to = Math.min(end, b.x.length - lag);
  for (let i = from; i < to; i++) {
    const j = i + lag;
    pairs += a.isKnown[i] & b.isKnown[j];
    xy += a.x[i] * b.x[j];
    xx += a.square[i] * b.isKnown[j];
    yy += b.square[j] * a.isKnown[i];
  }
  return { pairs, xy, xx, yy };
}

const correlation = ({ xy, xx, yy }: LagSums): number => (xx > 0 && yy > 0 ? xy / Math.sqrt(xx * yy) : 0);

/**
 * Correlation of two series of zero mean at each lag from `-most` to `most` bins, for the whole and for the part before
 * and behind `split`, told by the bin of the first. NaN stands for what is not known.
 */
export function crossCorrelations(
  first: Float64Array,
  second: Float64Array,
  most: number,
  split: number,
): { whole: CrossCorrelation; parts: readonly [CrossCorrelation, CrossCorrelation] } {
  const [a, b] = [filled(first), filled(second)];
  const empty = (): CrossCorrelation => ({
    r: new Float64Array(2 * most + 1),
    pairs: new Uint32Array(2 * most + 1),
  });
  const whole = empty();
  const parts = [empty(), empty()] as const;
  for (let lag = -most; lag <= most; lag++) {
    const at = most + lag;
    const [before, behind] = [sumsAt(a, b, lag, 0, split), sumsAt(a, b, lag, split, a.x.length)];
    const both = {
      pairs: before.pairs + behind.pairs,
      xy: before.xy + behind.xy,
      xx: before.xx + behind.xx,
      yy: before.yy + behind.yy,
    };
    [before, behind, both].forEach((sums, i) => {
      const into = [parts[0], parts[1], whole][i];
      into.r[at] = correlation(sums);
      into.pairs[at] = sums.pairs;
    });
  }
  return { whole, parts };
}

/** The correlation of a series of zero mean with itself, from lag 0 to `most` bins. */
export function autocorrelation(series: Float64Array, most: number): Float64Array {
  const one = filled(series);
  return Float64Array.from({ length: most + 1 }, (_, lag) =>
    correlation(sumsAt(one, one, lag, 0, series.length)),
  );
}
