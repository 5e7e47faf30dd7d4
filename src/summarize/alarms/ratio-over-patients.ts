import { clusterBootstrap } from '../statistics/cluster-bootstrap.js';
import type { Estimate } from '../statistics/estimate.js';
import { wilsonInterval } from '../statistics/wilson-interval.js';
import { RESAMPLES, SEED } from './audit-settings.js';

/** What one patient adds to a ratio. */
export interface Portion {
  readonly part: number;
  readonly whole: number;
}

const sumOf = (portions: readonly Portion[], key: keyof Portion): number =>
  portions.reduce((sum, portion) => sum + portion[key], 0);

/**
 * A ratio of sums over patients with its interval by the bootstrap over patients.
 *
 * @param portions of patients; those that add nothing to either sum count as clusters only where the caller wants them
 */
export const ratioOverPatients = (portions: readonly Portion[]): Estimate => {
  const { value, lower, upper } = clusterBootstrap(
    portions,
    (resampled) => {
      const whole = sumOf(resampled, 'whole');
      return whole === 0 ? null : sumOf(resampled, 'part') / whole;
    },
    { resamples: RESAMPLES, seed: SEED },
  );
  return { value, lower, upper };
};

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
  return { part, whole, byPatients: ratioOverPatients(having), naive: wilsonInterval(part, whole) };
}
