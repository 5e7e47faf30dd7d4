import type { PerfusionResult } from '../results-schema.js';
import { duration, pressure, share, signed } from '../words.js';

type Optimal = NonNullable<PerfusionResult['optimal']>;

/** Stands wherever optimal CPP does. */
export const OPTIMAL_CAUTION =
  'Investigational: optimal CPP is no target. Targets follow local protocol and the treating team.';

/** Optimal CPP in sentences that say what it is not; decimals are those of CPP. */
export function optimalSentence(optimal: Optimal, decimals: number): string {
  const { meanOptimalMmHg, meanDifferenceMmHg, hoursBelow, belowByMmHg, yieldShare, shuffledYieldShare } =
    optimal;
  if (meanOptimalMmHg === null) {
    return `Investigational: an optimal CPP could not be computed: ${optimal.meanOptimalMmHgReason ?? 'no curve was accepted'}.`;
  }
  const yields =
    yieldShare === null
      ? ''
      : ` A curve was accepted at ${share(yieldShare)} of the minutes${
          shuffledYieldShare === null
            ? ''
            : `, and at ${share(shuffledYieldShare)} on arterial pressure that was shuffled, in which there is nothing to find`
        }.`;
  const difference =
    meanDifferenceMmHg === null
      ? ''
      : ` CPP differed from it by ${signed(meanDifferenceMmHg, decimals)} mmHg on average${
          hoursBelow === null
            ? ''
            : `, and was more than ${belowByMmHg} mmHg below it for ${duration(hoursBelow)}`
        }.`;
  return `Investigational: where a curve could be fitted, optimal CPP averaged ${pressure(meanOptimalMmHg, decimals)} mmHg.${difference}${yields}`;
}
