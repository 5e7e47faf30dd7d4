import { LEAST_CLUSTERS, resampledEstimate, tooFewClusters } from '../statistics/cluster-bootstrap.js';
import { type Estimate, noBounds, noEstimate } from '../statistics/estimate.js';
import { Resampler } from '../statistics/resampler.js';
import { wilsonInterval } from '../statistics/wilson-interval.js';
import { RESAMPLES, SEED } from './audit-settings.js';

/** What one patient adds to a ratio. */
export interface Portion {
  readonly part: number;
  readonly whole: number;
}

const sumOf = (portions: readonly Portion[], key: keyof Portion): number =>
  portions.reduce((sum, portion) => sum + portion[key], 0);

const RESAMPLER = new Resampler(RESAMPLES, SEED);

const NONE = 'there is none, so resamples of patients cannot tell how far off that is';
const ALL = 'all are, so resamples of patients cannot tell how far off that is';

/** The ratio in each resample in which there is anything to divide by. */
function resampledRatios(portions: readonly Portion[]): number[] {
  const n = portions.length;
  const counts = RESAMPLER.counts(n);
  const parts = Float64Array.from(portions, ({ part }) => part);
  const wholes = Float64Array.from(portions, ({ whole }) => whole);
  const found: number[] = [];
  for (let i = 0; i < RESAMPLES; i++) {
    let part = 0;
    let whole = 0;
    for (let k = 0; k < n; k++) {
      part += counts[i * n + k] * parts[k];
      whole += counts[i * n + k] * wholes[k];
    }
    if (whole > 0) found.push(part / whole);
  }
  return found;
}

/**
 * A ratio of sums over patients with its interval by the bootstrap over patients, as `clusterBootstrap` draws them. One
 * that is 0 has no interval: it is 0 in each resample too.
 *
 * @param portions of patients; those that add nothing to either sum count as clusters only where the caller wants them
 */
export function ratioOverPatients(portions: readonly Portion[]): Estimate {
  const n = portions.length;
  const [part, whole] = [sumOf(portions, 'part'), sumOf(portions, 'whole')];
  if (whole === 0) return noEstimate('the figure has no value in these data');
  const value = part / whole;
  if (n < LEAST_CLUSTERS) return { value, ...noBounds(tooFewClusters(n)) };
  if (part === 0) return { value, ...noBounds(NONE) };
  const { lower, upper } = resampledEstimate(value, resampledRatios(portions), {
    clusters: n,
    resamples: RESAMPLES,
  });
  return { value, lower, upper };
}

/** A share of counts: over patients, and as if each count stood alone, which it does not. */
export interface AlarmShare extends Portion {
  readonly byPatients: Estimate;
  readonly naive: Estimate;
}

/** A share over the patients who have anything to take a share of. */
export function shareOverPatients(portions: readonly Portion[]): AlarmShare {
  const having = portions.filter(({ whole }) => whole > 0);
  const part = sumOf(having, 'part');
  const whole = sumOf(having, 'whole');
  const isAll = part === whole && having.length >= LEAST_CLUSTERS;
  const byPatients = isAll ? { value: 1, ...noBounds(ALL) } : ratioOverPatients(having);
  return { part, whole, byPatients, naive: wilsonInterval(part, whole) };
}
