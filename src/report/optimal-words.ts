import { isByChance, type Yields } from '../summarize/perfusion/chance-yield.js';
import { OPTIMAL_WINDOW_MINUTES } from '../summarize/perfusion/optimal-cpp.js';
import { BELOW_OPTIMAL_MMHG, type OptimalFigures } from '../summarize/perfusion/optimal-figures.js';
import { duration, pressure, share, signed } from './words.js';

/** Why nothing can be read from the curves that were found, as a sentence. */
export function whyNothingRead(yields: Yields): string {
  const [found, chance] = [share(yields.yieldShare ?? 0), share(yields.shuffledYieldShare ?? 0)];
  return isByChance(yields)
    ? `A curve was found no more often than chance finds one (${found} against ${chance}): nothing can be read from it.`
    : `A curve was found at ${found} of the minutes only (chance finds one at ${chance}): nothing can be read from it.`;
}

/** What optimal CPP says of the period, how far to trust it beside it. */
export function optimalSentence(optimal: OptimalFigures): string {
  const {
    meanOptimalMmHg,
    meanDifferenceMmHg,
    hoursBelow,
    minutesWithCurve,
    yieldShare,
    shuffledYieldShare,
  } = optimal;
  if (yieldShare === null) {
    return `Optimal CPP (investigational) cannot be computed: ${optimal.yieldShareReason}.`;
  }
  const hours = OPTIMAL_WINDOW_MINUTES / 60;
  const chance = `at ${share(yieldShare)} of the minutes that had enough PRx in the ${hours} h before, against ${share(shuffledYieldShare ?? 0)} where arterial pressure was shuffled and has nothing to do with ICP`;
  if (meanOptimalMmHg === null || meanDifferenceMmHg === null) {
    return `Optimal CPP (investigational): a curve was found ${chance}.`;
  }
  const withCurve = `the ${duration(minutesWithCurve / 60)} with a curve`;
  const below =
    hoursBelow === 0
      ? `at no time more than ${BELOW_OPTIMAL_MMHG} mmHg below it in ${withCurve}`
      : `more than ${BELOW_OPTIMAL_MMHG} mmHg below it for ${duration(hoursBelow)} of ${withCurve}`;
  return `Optimal CPP (investigational), mean of the ${hours}-h windows: ${pressure(meanOptimalMmHg, 0)} mmHg. CPP differed from it by ${signed(meanDifferenceMmHg, 0)} mmHg on average and was ${below}. A curve was found ${chance}.`;
}
