import { OPTIMAL_WINDOW_MINUTES } from '../summarize/perfusion/optimal-cpp.js';
import { BELOW_OPTIMAL_MMHG, type OptimalFigures } from '../summarize/perfusion/optimal-figures.js';
import { duration, pressure, share, signed } from './words.js';

/** What optimal CPP says of the period, how far to trust it beside it. */
export function optimalSentence(optimal: OptimalFigures): string {
  const { meanOptimalMmHg, meanDifferenceMmHg, hoursBelow, yieldShare, shuffledYieldShare } = optimal;
  if (yieldShare === null) {
    return `Optimal CPP (investigational) cannot be computed: ${optimal.yieldShareReason}.`;
  }
  const chance = `a curve was found at ${share(yieldShare)} of the minutes that had enough PRx in the ${OPTIMAL_WINDOW_MINUTES / 60} h before, against ${share(shuffledYieldShare ?? 0)} where arterial pressure was shuffled and has nothing to do with ICP`;
  if (meanOptimalMmHg === null || meanDifferenceMmHg === null) {
    return `Optimal CPP (investigational): ${chance}.`;
  }
  const below =
    hoursBelow === 0
      ? `at no time more than ${BELOW_OPTIMAL_MMHG} mmHg below it`
      : `more than ${BELOW_OPTIMAL_MMHG} mmHg below it for ${duration(hoursBelow)}`;
  return `Optimal CPP (investigational) averaged ${pressure(meanOptimalMmHg, 0)} mmHg; CPP differed from it by ${signed(meanDifferenceMmHg, 0)} mmHg on average and was ${below}. Of its worth: ${chance}.`;
}
