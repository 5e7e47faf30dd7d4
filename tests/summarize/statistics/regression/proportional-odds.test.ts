import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { likelihoodRatio } from '../../../../src/summarize/statistics/regression/likelihood-ratio.js';
import { logisticRegression } from '../../../../src/summarize/statistics/regression/logistic.js';
import { proportionalOdds } from '../../../../src/summarize/statistics/regression/proportional-odds.js';
import { expectSame, orNull } from '../../../support/followed.js';
import { holds } from '../../../support/properties.js';
import { runR } from '../../../support/r.js';
import { expectNear, fitOf, invented } from './invented.js';

interface OfR {
  readonly columns: number[][];
  readonly outcomes: number[];
  readonly weights: number[];
  readonly coef: number[];
  readonly cuts: number[];
  readonly se: number[];
  readonly deviance: number;
}

/** Invented outcomes from 1 to 5, that go with the first two predictors. */
function graded(seed: number, count: number): { columns: number[][]; outcomes: number[] } {
  const { columns, events } = invented(seed, count);
  const more = invented(seed + 1, count).events;
  const outcomes = events.map((event, i) => 1 + 2 * event + more[i] + (i % 7 === 0 ? 1 : 0));
  return { columns, outcomes };
}

describe('proportional odds', () => {
  // Outside source: R, MASS::polr, of pROC's aSAH (Glasgow outcome after subarachnoid haemorrhage), MASS's housing and
  // invented patients. Its search ends at 1e-6 or so, and its errors come from finite differences.
  it('is that of R', () => {
    const sets = [graded(1, 80), graded(2, 300)];
    const theirs = runR<OfR[]>(
      `suppressMessages(library(MASS)); data(aSAH, package = "pROC")
       of <- function(columns, y, w) {
         X <- as.data.frame(columns); names(X) <- paste0("x", seq_along(columns))
         scales <- sapply(X, sd); Z <- as.data.frame(scale(X, center = FALSE, scale = scales))
         Z$w <- w; Z$y <- factor(y)
         fit <- polr(y ~ . - w, Z, weights = w, Hess = TRUE, control = list(reltol = 1e-16, maxit = 2000))
         list(columns = lapply(columns, I), outcomes = I(y), weights = I(w), coef = I(unname(coef(fit) / scales)),
           cuts = I(unname(fit$zeta)), se = I(unname(sqrt(diag(vcov(fit))) / c(scales, rep(1, length(fit$zeta))))),
           deviance = deviance(fit))
       }
       d <- as.data.frame(model.matrix(~ Infl + Type + Cont, housing))[-1]
       c(list(of(list(aSAH$s100b, aSAH$age), as.numeric(as.character(aSAH$gos6)), rep(1, 113)),
           of(as.list(unname(d)), as.numeric(housing$Sat), housing$Freq)),
         unname(Map(function(x, y) of(x, y, rep(1, length(y))), input$columns, input$outcomes)))`,
      { columns: sets.map(({ columns }) => columns), outcomes: sets.map(({ outcomes }) => outcomes) },
    );
    expect(theirs.length).toBe(4);
    for (const one of theirs) {
      const fit = fitOf(proportionalOdds(one.columns, one.outcomes, { weights: one.weights }));
      expectNear([fit.deviance], [one.deviance], 1e-9);
      // Ours is the higher likelihood, or the same.
      expect(fit.deviance).toBeLessThanOrEqual(one.deviance + 1e-9);
      const all = [...fit.slopes, ...fit.cuts];
      expectNear(
        all.map(({ value }) => value),
        [...one.coef, ...one.cuts],
        2e-5,
      );
      expectNear(
        all.map(({ standardError }) => standardError),
        one.se,
        2e-4,
      );
    }
    // What MASS prints of housing: satisfaction by influence, type and contact.
    const { slopes, cuts, count } = fitOf(
      proportionalOdds(theirs[1].columns, theirs[1].outcomes, { weights: theirs[1].weights }),
    );
    expect(count).toBe(1681);
    expectNear([slopes[0].value, slopes[1].value, slopes[5].value], [0.5663937, 1.2888191, 0.3602841], 1e-5);
    expectNear([cuts[0].value, cuts[1].value], [-0.4961353, 0.6907083], 1e-5);
  });

  it('with two outcomes is logistic regression', () => {
    const { columns, events } = invented(8, 90);
    const plain = fitOf(logisticRegression(columns, events));
    const fit = fitOf(
      proportionalOdds(
        columns,
        events.map((event) => 3 + 2 * event),
      ),
    );
    const all = (list: readonly { value: number; standardError: number; p: number }[]) =>
      list.flatMap(({ value, standardError, p }) => [value, standardError, p]);
    expectNear(all(fit.slopes), all(plain.slopes), 1e-8);
    expectNear(
      [fit.cuts[0].value, fit.cuts[0].standardError],
      [-plain.intercept.value, plain.intercept.standardError],
      1e-8,
    );
    expectSame([fit.deviance, fit.nullDeviance], [plain.deviance, plain.nullDeviance]);
    const [a, b] = [fit.profile(1), plain.profile(1)];
    expectNear(
      [a.lower, a.upper, a.p].map((x) => orNull(x)!),
      [b.lower, b.upper, b.p].map((x) => orNull(x)!),
      1e-8,
    );
  });

  // Brute force: the likelihood written as its formula, and its second derivatives by finite differences.
  it('stands at the top of its likelihood, as curved as its errors say', () => {
    const { columns, outcomes } = graded(5, 70);
    const fit = fitOf(proportionalOdds(columns, outcomes));
    const levels = fit.categories.map(({ outcome }) => outcome);
    const atMost = (x: number): number => 1 / (1 + Math.exp(-x));
    const logLikelihood = (place: readonly number[]): number => {
      const cuts = [Number.NEGATIVE_INFINITY, ...place.slice(0, levels.length - 1), Number.POSITIVE_INFINITY];
      return outcomes.reduce((sum, outcome, i) => {
        const eta = columns.reduce((total, column, k) => total + place[levels.length - 1 + k] * column[i], 0);
        const j = levels.indexOf(outcome);
        return sum + Math.log(atMost(cuts[j + 1] - eta) - atMost(cuts[j] - eta));
      }, 0);
    };
    const all = [...fit.cuts, ...fit.slopes];
    const top = all.map(({ value }) => value);
    expect(logLikelihood(top)).toBeCloseTo(fit.logLikelihood, 10);
    const strides = all.map(({ standardError }) => standardError * 0.01);
    const moved = (...by: [number, number][]): number =>
      logLikelihood(
        top.map(
          (x, k) => x + by.reduce((sum, [axis, times]) => sum + (axis === k ? times * strides[k] : 0), 0),
        ),
      );
    const information = top.map((_, a) =>
      top.map((_, b) => {
        const mixed =
          moved([a, 1], [b, 1]) - moved([a, 1], [b, -1]) - moved([a, -1], [b, 1]) + moved([a, -1], [b, -1]);
        return -mixed / (4 * strides[a] * strides[b]);
      }),
    );
    top.forEach((_, a) => {
      expect(Math.abs(moved([a, 1]) - moved([a, -1]))).toBeLessThan(2e-5);
      top.forEach((_, b) => {
        const product = top.reduce((sum, _, k) => sum + information[a][k] * fit.covariance[k][b], 0);
        expect(product * (strides[a] / strides[b])).toBeCloseTo(a === b ? 1 : 0, 3);
      });
    });
  });

  it('tests a predictor as the likelihood without it does', () => {
    const { columns, outcomes } = graded(6, 90);
    const fit = fitOf(proportionalOdds(columns, outcomes));
    const without = fitOf(proportionalOdds(columns.slice(1), outcomes));
    expectNear([orNull(fit.profile(0).p)!], [likelihoodRatio(without.deviance, fit.deviance, 1).p], 1e-7);
    expectSame([fitOf(proportionalOdds([], outcomes)).deviance], [fit.nullDeviance]);
  });

  it('turns its signs with the outcome, and knows only its order', () => {
    holds(
      fc.property(fc.integer({ min: 1, max: 500 }), (seed) => {
        const { columns, outcomes } = graded(100 + seed, 40);
        const fit = proportionalOdds(columns, outcomes);
        const turned = proportionalOdds(
          columns,
          outcomes.map((outcome) => -(outcome ** 3)),
        );
        if ('reason' in fit || 'reason' in turned) {
          expect(turned).toEqual(fit);
          return;
        }
        expectNear(
          turned.slopes.map(({ value }) => -value),
          fit.slopes.map(({ value }) => value),
          1e-7,
        );
        expectNear(
          turned.cuts.map(({ value }) => -value).reverse(),
          fit.cuts.map(({ value }) => value),
          1e-7,
        );
      }),
      40,
    );
  });

  it('says why where there is no result', () => {
    expect(proportionalOdds([[1, 2]], [4, 4])).toEqual({
      reason: 'all have the same outcome',
      separation: null,
    });
    expect(proportionalOdds([[1, 2, 3, 4, 5, 6]], [1, 1, 2, 2, 3, 3])).toMatchObject({
      separation: 'complete',
    });
    expect(proportionalOdds([[1, 2, 2, 4, 5, 6]], [1, 1, 2, 2, 3, 3])).toMatchObject({
      separation: 'quasi-complete',
    });
    expect(() => proportionalOdds([[1, 2]], [1, Number.NaN])).toThrow('Expected finite outcomes');
  });
});
