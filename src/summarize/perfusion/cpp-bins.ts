import { lowestAt, type Parabola, reaches, weightedParabola } from './parabola.js';

/** Width of the bins of CPP, mmHg. */
export const BIN_MMHG = 5;
/** A bin counts where it holds at least this share of the window. */
const LEAST_SHARE = 0.02;
const FEWEST_BINS = 5;
const LEAST_R2 = 0.2;
/** r of -1 or 1 would be infinite once it is transformed. */
const MOST_R = 0.999;
/** Over this PRx counts as impaired. Source: Sorrentino et al., Neurocrit Care 2012;16:258-66. */
export const PRX_LIMIT = 0.25;
/** CPP from -150 mmHg (ICP at 150, MAP at 0) to under 350 mmHg. */
const LOWEST_MMHG = -150;
const BINS = 100;

/** Fisher's transform of a correlation, clipped. Source of both: see `acceptedCurve`. */
export const transformed = (r: number): number => Math.atanh(Math.max(-MOST_R, Math.min(MOST_R, r)));

/** A parabola through the bins that fulfils all conditions, CPP in mmHg. */
export interface Curve {
  readonly parabola: Parabola;
  readonly optimalMmHg: number;
  /** Where it falls under the limit and rises over it again; NaN where it does not inside the bins. */
  readonly lowerMmHg: number;
  readonly upperMmHg: number;
}

/** Pairs of CPP and transformed PRx that come and go, by bins of CPP. */
export class CppBins {
  private readonly counts = new Uint32Array(BINS);
  private readonly sums = new Float64Array(BINS);
  /** How many pairs it holds. */
  size = 0;

  private static placeOf(cppMmHg: number): number {
    return Math.max(0, Math.min(BINS - 1, Math.floor((cppMmHg - LOWEST_MMHG) / BIN_MMHG)));
  }

  add(cppMmHg: number, z: number): void {
    const place = CppBins.placeOf(cppMmHg);
    this.counts[place]++;
    this.sums[place] += z;
    this.size++;
  }

  remove(cppMmHg: number, z: number): void {
    const place = CppBins.placeOf(cppMmHg);
    this.counts[place]--;
    // What adding and taking away leaves of rounding goes with the last pair.
    this.sums[place] = this.counts[place] === 0 ? 0 : this.sums[place] - z;
    this.size--;
  }

  /** Bins that hold something, from low to high; those under 2 % of the window's pairs are not fitted. */
  bins(windowPairs: number): { fromMmHg: number; count: number; meanZ: number; isFitted: boolean }[] {
    return Array.from(this.counts, (count, i) => ({
      fromMmHg: LOWEST_MMHG + i * BIN_MMHG,
      count,
      meanZ: this.sums[i] / count,
      isFitted: count >= LEAST_SHARE * windowPairs,
    })).filter(({ count }) => count > 0);
  }

  /**
   * The curve through the bins, or why there is none.
   *
   * Definition: means of the transformed index by 5-mmHg bins that hold 2 % of the window or more, 5 bins or more; a
   * parabola weighted by counts that opens upward, has its lowest point inside the bins and explains 20 % or more.
   * Sources: Steiner et al., Crit Care Med 2002;30:733-8; Aries et al., Crit Care Med 2012;40:2456-63; transform: Kelly et
   * al., Acta Neurochir Suppl 2018;126:317-20.
   *
   * @param windowPairs pairs of a window without gaps, which the 2 % are of
   */
  curve(windowPairs: number): Curve | string {
    const x: number[] = [];
    const y: number[] = [];
    const weights: number[] = [];
    for (let i = 0; i < BINS; i++) {
      const count = this.counts[i];
      if (count === 0 || count < LEAST_SHARE * windowPairs) continue;
      x.push(LOWEST_MMHG + (i + 0.5) * BIN_MMHG);
      y.push(this.sums[i] / count);
      weights.push(count);
    }
    if (x.length < FEWEST_BINS) {
      return `CPP lay in ${x.length} ${x.length === 1 ? 'bin' : 'bins'} of ${BIN_MMHG} mmHg for long enough, and ${FEWEST_BINS} are needed`;
    }
    const parabola = weightedParabola(x, y, weights);
    if (parabola === null || !(parabola.curvature > 0)) return 'the curve does not open upward';
    const optimalMmHg = lowestAt(parabola);
    const [from, to] = [x[0] - BIN_MMHG / 2, x[x.length - 1] + BIN_MMHG / 2];
    if (!(optimalMmHg >= from && optimalMmHg <= to))
      return 'its lowest point lies outside the CPP that was seen';
    if (parabola.r2 < LEAST_R2) return 'the index hardly follows CPP';
    const [lower, upper] = reaches(parabola, transformed(PRX_LIMIT)) ?? [Number.NaN, Number.NaN];
    return {
      parabola,
      optimalMmHg,
      lowerMmHg: lower >= from ? lower : Number.NaN,
      upperMmHg: upper <= to ? upper : Number.NaN,
    };
  }
}
