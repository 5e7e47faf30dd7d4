import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { insist } from '../estimate.js';
import { normalReach } from '../normal-reach.js';
import { climb, type Summit } from './climb.js';
import { type Coefficient, coefficientOf, type NoFit, noFit, noSummit } from './coefficient.js';
import { asInDesign, type Columns, changeToOwn, type Design, designOf, withLast } from './design.js';
import { inverseOf } from './inverse.js';
import { LogitHill } from './logit-hill.js';
import { type Profile, profileOfLast } from './profile.js';

export interface RegressionOptions {
  /** How often each patient counts, whole, as in a resample; once where nothing is said. */
  readonly weights?: ArrayLike<number>;
  /** Share of Wald's intervals; 0.95 where nothing is said. */
  readonly level?: number;
}

/** A linear predictor at some values of the predictors, in log odds; `standardError` by the delta method. */
export interface LogOdds {
  readonly value: number;
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
}

export interface LogisticFit {
  readonly method: 'maximum likelihood' | 'penalised likelihood';
  /** How many count, and how many of them have the event. */
  readonly count: number;
  readonly events: number;
  readonly intercept: Coefficient;
  /** In the order of the predictors. */
  readonly slopes: readonly Coefficient[];
  /** Of the intercept and the slopes. */
  readonly covariance: readonly (readonly number[])[];
  /** The highest; with the penalty where it is penalised. */
  readonly logLikelihood: number;
  /** Minus twice the log likelihood without a penalty. */
  readonly deviance: number;
  /** That of the intercept alone. */
  readonly nullDeviance: number;
  /** Of Newton. */
  readonly steps: number;
  /** Of the predictor with that index: the interval and test that the likelihood itself gives. */
  profile(predictor: number, level?: number): Profile;
  /** At values of all predictors. */
  logOddsAt(values: ArrayLike<number>, level?: number): LogOdds;
}

/**
 * Logistic regression of an event on predictors, by maximum likelihood. As R's `glm(family = binomial)`. Separation is
 * found and not fitted over. Source: McCullagh & Nelder, Generalized Linear Models, 2nd ed. 1989, chapter 4.
 *
 * @param columns the predictors, a list each, finite; none for the intercept alone
 * @param events true or 1 of each patient who has it
 * @returns the reason where all or none have it, predictors tell nothing of their own, or they separate the outcomes
 * @throws RangeError where lists differ in length or hold something else
 */
export const logisticRegression = (
  columns: Columns,
  events: ArrayLike<number | boolean>,
  options: RegressionOptions = {},
): LogisticFit | NoFit => fitted(columns, events, options, false);

/**
 * Logistic regression by Firth's penalised likelihood, which has a finite answer under separation too and less bias with
 * few events. Standard errors come from the information without the penalty; where they matter, take the profile's
 * interval and test instead, since Wald's are poor under separation. As R's
 * `glm(method = brglm2::brglmFit, type = "AS_mean")`. Sources: Firth, Biometrika 1993;80:27-38; Heinze & Schemper, Stat Med
 * 2002;21:2409-19.
 *
 * @param columns the predictors, a list each, finite; none for the intercept alone
 * @param events true or 1 of each patient who has it
 * @returns the reason where all or none have it, or predictors tell nothing of their own
 * @throws RangeError where lists differ in length or hold something else
 */
export const firthRegression = (
  columns: Columns,
  events: ArrayLike<number | boolean>,
  options: RegressionOptions = {},
): LogisticFit | NoFit => fitted(columns, events, options, true);

function fitted(
  columns: Columns,
  events: ArrayLike<number | boolean>,
  { weights, level = 0.95 }: RegressionOptions,
  isPenalised: boolean,
): LogisticFit | NoFit {
  insist(
    Array.from(events, Number).every((event) => event === 0 || event === 1),
    'events that are true or false',
  );
  const design = designOf(columns, events.length, weights);
  if ('reason' in design) return noFit(design.reason);
  const count = design.weights.reduce((sum, weight) => sum + weight, 0);
  const having = design.weights.reduce((sum, weight, r) => sum + weight * Number(events[design.rows[r]]), 0);
  if (having === 0 || having === count) return noFit('all or none have the event');
  const hill = hillOf(design, events, isPenalised);
  const start = (width: number): Float64Array => {
    const place = new Float64Array(width + 1);
    place[0] = Math.log(having / (count - having));
    return place;
  };
  const summit = climb(hill, start(design.width));
  if (summit === null || typeof summit === 'string') return noSummit(summit);
  const plain = isPenalised ? hillOf(design, events, false) : hill;
  return {
    method: isPenalised ? 'penalised likelihood' : 'maximum likelihood',
    count,
    events: having,
    ...coefficients(design, summit, level),
    logLikelihood: isPenalised ? summit.value + logScale(design) : summit.value,
    deviance: -2 * plain.at(summit.place)!.value,
    nullDeviance: -2 * (having * Math.log(having / count) + (count - having) * Math.log(1 - having / count)),
    steps: summit.steps,
    profile: (predictor, own = 0.95) => {
      const turned = designOf(withLast(columns, predictor), events.length, weights);
      // Never so: the same predictors in another order.
      if ('reason' in turned) return { lower: turned, upper: turned, p: turned };
      return profileOfLast(hillOf(turned, events, isPenalised), start(turned.width), turned, own);
    },
    logOddsAt: (values, own = 0.95) => logOdds(design, summit, values, own),
  };
}

const hillOf = (design: Design, events: ArrayLike<number | boolean>, isPenalised: boolean): LogitHill =>
  new LogitHill(
    design,
    Uint8Array.from(design.rows, (i) => Number(events[i])),
    isPenalised,
  );

/** The penalty in the predictors' own units is larger by this than in the design's. */
const logScale = ({ triangle }: Design): number =>
  triangle.diagonal().reduce((sum, scale) => sum + Math.log(scale), 0);

/** In the predictors' own units. */
function coefficients(
  design: Design,
  { place, information }: Summit,
  level: number,
): Pick<LogisticFit, 'intercept' | 'slopes' | 'covariance'> {
  const change = changeToOwn(design, 1, -1);
  const values = change.mmul(Matrix.columnVector(place)).getColumn(0);
  const covariance = change.mmul(inverseOf(information)).mmul(change.transpose()).to2DArray();
  const [intercept, ...slopes] = values.map((value, k) =>
    coefficientOf(value, Math.sqrt(covariance[k][k]), level),
  );
  return { intercept, slopes, covariance };
}

function logOdds(
  design: Design,
  { place, information }: Summit,
  values: ArrayLike<number>,
  level: number,
): LogOdds {
  insist(
    values.length === design.width && Array.prototype.every.call(values, Number.isFinite),
    `a finite value of each of ${design.width} predictors`,
  );
  const row = Matrix.columnVector([1, ...asInDesign(design, values)]);
  const value = row.dot(Matrix.columnVector(place));
  const standardError = Math.sqrt(row.dot(new CholeskyDecomposition(information).solve(row)));
  const reach = normalReach(level) * standardError;
  return { value, standardError, lower: value - reach, upper: value + reach };
}
