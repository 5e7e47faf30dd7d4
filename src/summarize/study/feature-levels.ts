/** Pressures past which a study counts hours and doses, mmHg, rising. */
export interface FeatureLevels {
  readonly icpAboveMmHg: readonly number[];
  readonly cppBelowMmHg: readonly number[];
}

/**
 * ICP above 22 and CPP below 60 and 70 mmHg: Brain Trauma Foundation, 4th ed., Carney et al., Neurosurgery 2017;80:6-15. The
 * others around them: own convention.
 */
export const FEATURE_LEVELS: FeatureLevels = {
  icpAboveMmHg: [15, 18, 20, 22, 25, 30],
  cppBelowMmHg: [50, 60, 70],
};
