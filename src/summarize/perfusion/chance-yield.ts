/** Where a curve was found at fewer of the minutes, they are too few to speak of the period. Own convention. */
const LEAST_YIELD = 0.1;

/** What tells how often a curve of optimal CPP was found, and how often chance finds one. */
export interface Yields {
  readonly yieldShare: number | null;
  readonly shuffledYieldShare: number | null;
}

/** In whole per cent, as both are printed: `13 % against 13 %` would be no more often to any reader. */
const percent = (part: number): number => Math.round(part * 100);

/** True where a curve was found no more often than on pressures that have nothing to do with each other. */
export const isByChance = ({ yieldShare, shuffledYieldShare }: Yields): boolean =>
  yieldShare !== null && percent(yieldShare) <= percent(shuffledYieldShare ?? 0);

/** True where a curve was found no more often than by chance, or hardly ever: nothing can be read from it. */
export const isNoBetterThanChance = (yields: Yields): boolean =>
  isByChance(yields) || (yields.yieldShare !== null && yields.yieldShare < LEAST_YIELD);
