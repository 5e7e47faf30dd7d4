import { OPTIMAL_WINDOW_MINUTES } from '../summarize/perfusion/optimal-cpp.js';
import { BELOW_OPTIMAL_MMHG, type OptimalFigures } from '../summarize/perfusion/optimal-figures.js';
import { duration, pressure, share, signed } from './words.js';

/** Where a curve was found at fewer of the minutes, they are too few to speak of the period. Own convention. */
const LEAST_YIELD = 0.1;

/** What tells how often a curve was found, and how often chance finds one. */
type Yields = Pick<OptimalFigures, 'yieldShare' | 'shuffledYieldShare'>;

/** In whole per cent, as both are printed: `13 % against 13 %` would be no more often to any reader. */
const percent = (part: number): number => Math.round(part * 100);

const isByChance = ({ yieldShare, shuffledYieldShare }: Yields): boolean =>
  yieldShare !== null && percent(yieldShare) <= percent(shuffledYieldShare ?? 0);

/** True where a curve was found no more often than on pressures that have nothing to do with each other, or hardly ever. */
export const isNoBetterThanChance = (yields: Yields): boolean =>
  isByChance(yields) || (yields.yieldShare !== null && yields.yieldShare < LEAST_YIELD);

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
