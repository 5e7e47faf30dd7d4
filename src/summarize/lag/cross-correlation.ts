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

/** A series with 0 where it is not known, and what its parts add up to. */
interface Filled {
  readonly x: Float64Array;
  /** 1 where it is known. */
  readonly isKnown: Float64Array;
  readonly isWhole: boolean;
  /** Sum of the squares before each place. */
  readonly squaresBefore: Float64Array;
}

function filled(series: Float64Array): Filled {
  const x = new Float64Array(series.length);
  const isKnown = new Float64Array(series.length);
  const squaresBefore = new Float64Array(series.length + 1);
  let isWhole = true;
  for (let i = 0; i < series.length; i++) {
    const value = series[i];
    if (Number.isNaN(value)) isWhole = false;
    else {
      x[i] = value;
      isKnown[i] = 1;
    }
    squaresBefore[i + 1] = squaresBefore[i] + x[i] * x[i];
  }
  return { x, isKnown, isWhole, squaresBefore };
}

/** Sums over the pairs (i, i + lag) with i from `start` up to `end`. */
function sumsAt(a: Filled, b: Filled, lag: number, start: number, end: number): LagSums {
  const from = Math.max(start, -lag);
  const to = Math.max(from, Math.min(end, b.x.length - lag));
  const [x, y] = [a.x, b.x];
  let [pairs, xy, xx, yy] = [to - from, 0, 0, 0];
  if (a.isWhole && b.isWhole) {
    for (let i = from; i < to; i++) xy += x[i] * y[i + lag];
    xx = a.squaresBefore[to] - a.squaresBefore[from];
    yy = b.squaresBefore[to + lag] - b.squaresBefore[from + lag];
    return { pairs, xy, xx, yy };
  }
  const [ofA, ofB] = [a.isKnown, b.isKnown];
  pairs = 0;
  for (let i = from; i < to; i++) {
    const own = x[i];
    const other = y[i + lag];
    const isA = ofA[i];
    const isB = ofB[i + lag];
    pairs += isA * isB;
    xy += own * other;
    xx += own * own * isB;
    yy += other * other * isA;
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
