import type { Figure } from '../../figure.js';
import type { Estimate } from '../estimate.js';
import { normalReach } from '../normal-reach.js';
import { twoSidedTail } from '../tails.js';
import type { Separation } from './climb.js';

/** A coefficient of a regression, in log odds per unit of its predictor, with Wald's interval and test. */
export interface Coefficient {
  readonly value: number;
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
  /** Two-sided, of no effect. */
  readonly p: number;
}

/** Why a regression has no result. */
export interface NoFit {
  readonly reason: string;
  /** Whether it is because predictors part those with the event from those without it. */
  readonly separation: Separation | null;
}

export const noFit = (reason: string, separation: Separation | null = null): NoFit => ({
  reason,
  separation,
});

/** The reason where there is no highest place of a likelihood. */
export function noSummit(found: Separation | null): NoFit {
  if (found === null) return noFit('the search for the highest likelihood came to no end');
  return found === 'complete'
    ? noFit('the predictors part the outcomes completely, so that no finite odds ratio is likeliest', found)
    : noFit('the predictors part some of the outcomes, so that no finite odds ratio is likeliest', found);
}

/** By Wald. */
export function coefficientOf(value: number, standardError: number, level: number): Coefficient {
  const reach = normalReach(level) * standardError;
  return {
    value,
    standardError,
    lower: value - reach,
    upper: value + reach,
    p: twoSidedTail(value / standardError),
  };
}

/** An estimate of log odds as odds, for so many units of the predictor: an odds ratio per 5 mmHg with `step` 5. */
export function oddsRatio({ value, lower, upper }: Estimate, step = 1): Estimate {
  const odds = (figure: Figure): Figure => (typeof figure === 'number' ? Math.exp(step * figure) : figure);
  const [one, other] = step < 0 ? [upper, lower] : [lower, upper];
  return { value: odds(value), lower: odds(one), upper: odds(other) };
}
