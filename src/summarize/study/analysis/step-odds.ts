import type { Figure } from '../../figure.js';
import { insist } from '../../statistics/estimate.js';
import type { Separation } from '../../statistics/regression/climb.js';
import type { Coefficient } from '../../statistics/regression/coefficient.js';
import type { Columns } from '../../statistics/regression/design.js';
import {
  firthRegression,
  type LogisticFit,
  logisticRegression,
} from '../../statistics/regression/logistic.js';
import type { Profile } from '../../statistics/regression/profile.js';

/** An interval of odds ratios and the test of none that goes with it. */
export interface OddsInterval {
  readonly lower: Figure;
  readonly upper: Figure;
  /** Two-sided. */
  readonly p: Figure;
}

/** An odds ratio per step of a feature: over 1 where more of it goes with a worse outcome. */
export interface OddsRatio {
  readonly value: Figure;
  /** By the standard error. */
  readonly wald: OddsInterval;
  /** By the likelihood itself, which holds better with few patients: the one to read where the two differ. */
  readonly profile: OddsInterval;
}

/** The odds of an unfavourable outcome by logistic regression. */
export interface LogisticOdds extends OddsRatio {
  /** Penalised where predictors part the outcomes, so that there is no finite odds ratio without. */
  readonly method: LogisticFit['method'];
  readonly separation: Separation | null;
  readonly patients: number;
  /** Patients with an unfavourable outcome. */
  readonly events: number;
  /** Of the smaller group, by predictors of the model. */
  readonly eventsPerVariable: number;
  readonly hasFewEvents: boolean;
}

export interface NoOdds {
  readonly reason: string;
}

/**
 * Fewer events a predictor leave coefficients that are too large and intervals that do not hold. Source: Peduzzi et al., J
 * Clin Epidemiol 1996;49:1373-9; that the smaller of both groups counts: Harrell, Regression Modeling Strategies, 2nd ed.
 * 2015, section 4.4.
 */
export const LEAST_EVENTS_PER_VARIABLE = 10;

const BEYOND = { reason: 'too far from 1 to be written as a number: another step shows it' };
const PARTED = {
  reason:
    'the outcomes are parted, and the standard error does not hold: the interval of the likelihood does',
};

function oddsOf(logOdds: Figure, step: number): Figure {
  if (typeof logOdds !== 'number') return logOdds;
  const odds = Math.exp(step * logOdds);
  return Number.isFinite(odds) && odds > 0 ? odds : BEYOND;
}

/** The odds ratio of a coefficient for so many units of its feature. */
export const oddsPerStep = (slope: Coefficient, profile: Profile, step: number): OddsRatio => {
  insist(step > 0 && Number.isFinite(step), `a step above 0, and got ${step}`);
  const interval = ({ lower, upper, p }: Profile): OddsInterval => ({
    lower: oddsOf(lower, step),
    upper: oddsOf(upper, step),
    p,
  });
  return { value: oddsOf(slope.value, step), wald: interval(slope), profile: interval(profile) };
};

/**
 * Odds of the event per step of the first predictor, with the others held as they are. Where predictors part the outcomes,
 * by Firth's penalised likelihood, and then without Wald's interval. Sources: as `logisticRegression`, `firthRegression` and
 * `profileOfLast`.
 *
 * @param columns the feature, and what it is adjusted by
 * @param step in units of the feature, above 0
 * @returns the reason where a group has fewer patients than there are predictors, or these cannot be told apart
 */
export function logisticOdds(
  columns: Columns,
  events: ArrayLike<number>,
  step: number,
): LogisticOdds | NoOdds {
  const having = Array.from(events).reduce((sum, event) => sum + event, 0);
  const smaller = Math.min(having, events.length - having);
  if (smaller < columns.length) {
    return {
      reason: `${smaller} of the smaller group and ${columns.length} predictors: too few for this model`,
    };
  }
  const plain = logisticRegression(columns, events);
  const separation = 'reason' in plain ? plain.separation : null;
  const fit = separation === null ? plain : firthRegression(columns, events);
  if ('reason' in fit) return { reason: fit.reason };
  const odds = oddsPerStep(fit.slopes[0], fit.profile(0), step);
  const eventsPerVariable = smaller / columns.length;
  return {
    ...odds,
    wald: separation === null ? odds.wald : { lower: PARTED, upper: PARTED, p: PARTED },
    method: fit.method,
    separation,
    patients: fit.count,
    events: fit.events,
    eventsPerVariable,
    hasFewEvents: eventsPerVariable < LEAST_EVENTS_PER_VARIABLE,
  };
}
