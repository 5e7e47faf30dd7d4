import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { oddsRatio } from '../../../../src/summarize/statistics/regression/coefficient.js';
import { likelihoodRatio } from '../../../../src/summarize/statistics/regression/likelihood-ratio.js';
import { logisticRegression } from '../../../../src/summarize/statistics/regression/logistic.js';
import { expectSame, orNull } from '../../../support/followed.js';
import { holds } from '../../../support/properties.js';
import { runPython } from '../../../support/python.js';
import { runR } from '../../../support/r.js';
import { expectNear, fitOf, invented } from './invented.js';

interface OfR {
  readonly columns: number[][];
  readonly events: number[];
  readonly coef: number[];
  readonly se: number[];
  readonly vcov: number[][];
  readonly p: number[];
  readonly deviance: number;
  readonly nullDeviance: number;
  /** A row a predictor: bounds by roots of the profile, by confint of MASS, and p of the likelihood ratio. */
  readonly profile: number[][];
  readonly confint: number[][];
  readonly lrP: number[];
  /** At the mean of each predictor plus 1. */
  readonly eta: number;
  readonly etaSe: number;
}

const INVENTED = [invented(1, 60), invented(2, 300)];
let theirs: OfR[] = [];

beforeAll(() => {
  theirs = runR<OfR[]>(
    `suppressMessages(library(MASS)); data(aSAH, package = "pROC")
     of <- function(columns, y) {
       X <- as.data.frame(columns); names(X) <- paste0("x", seq_along(columns))
       tight <- glm.control(epsilon = 1e-14, maxit = 100)
       # R's errors are those of the step before the last, so it starts once more from where it ended.
       fit <- glm(y ~ ., binomial, X, control = tight, start = coef(glm(y ~ ., binomial, X, control = tight)))
       top <- deviance(fit)
       without <- function(k, b) glm.fit(cbind(1, as.matrix(X[-k])), y, family = binomial(), offset = b * X[[k]],
         control = tight)$deviance
       root <- function(k, side) {
         at <- coef(fit)[k + 1]; se <- sqrt(vcov(fit)[k + 1, k + 1])
         uniroot(function(b) without(k, b) - top - qchisq(0.95, 1), sort(at + side * se * c(1, 6)), tol = 1e-13)$root
       }
       ks <- seq_along(columns)
       row <- as.data.frame(lapply(X, function(x) mean(x) + 1))
       at <- predict(fit, row, se.fit = TRUE)
       list(columns = lapply(columns, I), events = I(y), coef = unname(coef(fit)), se = unname(sqrt(diag(vcov(fit)))),
         vcov = unname(vcov(fit)), p = unname(summary(fit)$coefficients[, 4]), deviance = top,
         nullDeviance = fit$null.deviance, profile = lapply(ks, function(k) c(root(k, -1), root(k, 1))),
         confint = unname(suppressMessages(confint(fit))[-1, ]),
         lrP = I(sapply(ks, function(k) pchisq(without(k, 0) - top, 1, lower.tail = FALSE))),
         eta = unname(at$fit), etaSe = unname(at$se.fit))
     }
     c(list(of(list(aSAH$s100b, aSAH$age), as.numeric(aSAH$outcome == "Poor")),
         of(list(birthwt$age, birthwt$lwt, birthwt$smoke, birthwt$ht, birthwt$ui), birthwt$low)),
       unname(Map(of, input$columns, input$events)))`,
    { columns: INVENTED.map(({ columns }) => columns), events: INVENTED.map(({ events }) => events) },
  );
});

describe('logistic regression', () => {
  // Outside source: R, glm, of pROC's aSAH (113 patients after subarachnoid haemorrhage), MASS's birthwt and invented
  // patients, to a relative 1e-8.
  it('is that of R', () => {
    expect(theirs.length).toBe(4);
    for (const one of theirs) {
      const fit = fitOf(logisticRegression(one.columns, one.events));
      const all = [fit.intercept, ...fit.slopes];
      const values = (key: 'value' | 'standardError' | 'p'): number[] => all.map((own) => own[key]);
      expectNear(values('value'), one.coef, 1e-8);
      expectNear(values('standardError'), one.se, 1e-8);
      expectNear(values('p'), one.p, 1e-8);
      expectNear(fit.covariance.flat(), one.vcov.flat(), 1e-8);
      expectSame(
        [fit.deviance, fit.nullDeviance, fit.logLikelihood],
        [one.deviance, one.nullDeviance, one.deviance / -2],
      );
      const means = one.columns.map((x) => x.reduce((sum, v) => sum + v, 0) / x.length + 1);
      const { value, standardError } = fit.logOddsAt(means);
      expectNear([value, standardError], [one.eta, one.etaSe], 1e-8);
    }
  });

  // Outside source: what R prints of aSAH.
  it('of s100b and age has the figures that are known', () => {
    const { slopes, count, events } = fitOf(logisticRegression(theirs[0].columns, theirs[0].events));
    expect([count, events]).toEqual([113, 41]);
    expect(slopes[0].value).toBeCloseTo(4.66213466, 8);
    expect(slopes[1].value).toBeCloseTo(0.02162403, 8);
    expect(slopes[0].standardError).toBeCloseTo(1.19192594, 6);
    expect(slopes[1].standardError).toBeCloseTo(0.01661003, 8);
    expect(slopes[0].upper - slopes[0].value).toBeCloseTo(1.959964 * slopes[0].standardError, 6);
  });

  // Outside sources: roots of R's own profile deviance, to 1e-8; confint of MASS, which draws a spline through the
  // profile, to a hundredth of a standard error; the likelihood ratio of R's glm without the predictor.
  it('has the profile intervals of R', () => {
    for (const one of theirs) {
      const fit = fitOf(logisticRegression(one.columns, one.events));
      one.columns.forEach((_, k) => {
        const { lower, upper, p } = fit.profile(k);
        expectNear([orNull(lower)!, orNull(upper)!], one.profile[k], 1e-8);
        [lower, upper].forEach((bound, side) => {
          const off = Math.abs(orNull(bound)! - one.confint[k][side]);
          expect(off).toBeLessThan(0.01 * fit.slopes[k].standardError);
        });
        expectNear([orNull(p)!], [one.lrP[k]], 1e-8);
        const without = fitOf(
          logisticRegression(
            one.columns.filter((_, i) => i !== k),
            one.events,
          ),
        );
        expectNear([likelihoodRatio(without.deviance, fit.deviance, 1).p], [one.lrP[k]], 1e-8);
      });
    }
  });

  // Closed form: the odds ratio of a table, with Woolf's error.
  it('of one yes or no is the odds ratio of a table', () => {
    const [a, b, c, d] = [12, 5, 7, 21];
    const fit = fitOf(logisticRegression([[1, 1, 0, 0]], [1, 0, 1, 0], { weights: [a, b, c, d] }));
    expectSame(
      [fit.slopes[0].value, fit.slopes[0].standardError, fit.intercept.value],
      [Math.log((a * d) / (b * c)), Math.sqrt(1 / a + 1 / b + 1 / c + 1 / d), Math.log(c / d)],
    );
    const ratio = oddsRatio(fit.slopes[0]);
    expectSame([orNull(ratio.value)], [(a * d) / (b * c)]);
  });

  it('does not hang on units or zero points of predictors', () => {
    const { columns, events } = INVENTED[0];
    const fit = fitOf(logisticRegression(columns, events));
    const factor = fc.oneof(
      fc.double({ min: 0.01, max: 100, noNaN: true }),
      fc.double({ min: -100, max: -0.01, noNaN: true }),
    );
    holds(
      fc.property(
        fc.array(fc.tuple(factor, fc.double({ min: -1e4, max: 1e4, noNaN: true })), {
          minLength: 3,
          maxLength: 3,
        }),
        (changes) => {
          const moved = columns.map((column, k) => column.map((x) => changes[k][0] * x + changes[k][1]));
          const other = fitOf(logisticRegression(moved, events));
          expectNear(
            other.slopes.map(({ value }, k) => value * changes[k][0]),
            fit.slopes.map(({ value }) => value),
            1e-6,
          );
          expectNear(
            other.slopes.map(({ standardError }, k) => standardError * Math.abs(changes[k][0])),
            fit.slopes.map(({ standardError }) => standardError),
            1e-6,
          );
          expectNear([other.deviance], [fit.deviance], 1e-9);
        },
      ),
      100,
    );
  });

  it('of patients who count several times is that of as many copies', () => {
    const { columns, events } = INVENTED[0];
    const weights = events.map((_, i) => (i * 7) % 4);
    const places = weights.flatMap((weight, i) => new Array<number>(weight).fill(i));
    const weighted = fitOf(logisticRegression(columns, events, { weights }));
    const copied = fitOf(
      logisticRegression(
        columns.map((column) => places.map((i) => column[i])),
        places.map((i) => events[i]),
      ),
    );
    expect(weighted.count).toBe(copied.count);
    expect(weighted.events).toBe(copied.events);
    expectNear(weighted.covariance.flat(), copied.covariance.flat(), 1e-9);
    expectSame([weighted.deviance, weighted.nullDeviance], [copied.deviance, copied.nullDeviance]);
  });

  it('on nothing is the share of events', () => {
    const fit = fitOf(logisticRegression([], [1, 0, 0, 1, 0]));
    expectSame([fit.intercept.value], [Math.log(2 / 3)]);
    expect(fit.slopes).toEqual([]);
    expectSame([fit.deviance], [fit.nullDeviance]);
  });
});

describe('separation', () => {
  /** Few patients with whole numbers, so that all kinds of separation come up. */
  const SETS = Array.from({ length: 220 }, (_, i) => {
    const { columns, events } = invented(1000 + i, 6 + (i % 9));
    const rounded = [columns[0].map((x) => Math.round(x / 20)), columns[1].map((x) => Math.round(x / 3))];
    if (i % 20 === 0) return { columns: rounded, events: events.map(() => 1) };
    if (i % 20 === 10) return { columns: [rounded[0], rounded[0].map((x) => 3 - 2 * x)], events };
    return { columns: i % 2 === 0 ? rounded : rounded.slice(0, 1), events };
  });

  // Outside source: scipy's linear programming looks for a direction in which no outcome becomes less likely (Albert &
  // Anderson, Biometrika 1984;71:1-10; Konis, thesis, Oxford 2007).
  it('is found where linear programming finds it, and of the same kind', () => {
    const kinds = runPython<string[]>(
      `import json, sys, numpy as np
from scipy.optimize import linprog
def kind(columns, events):
    X = np.column_stack([np.ones(len(events))] + [np.array(c, float) for c in columns])
    y = np.array(events)
    if len(set(events)) < 2 or np.linalg.matrix_rank(X) < X.shape[1]: return "undefined"
    A = X * (2 * y - 1)[:, None]
    free = [(None, None)] * X.shape[1]
    if linprog(np.zeros(X.shape[1]), A_ub=-A, b_ub=-np.ones(len(y)), bounds=free, method="highs").status == 0: return "complete"
    part = linprog(-A.sum(axis=0), A_ub=np.vstack([-A, A]), b_ub=np.r_[np.zeros(len(y)), np.ones(len(y))], bounds=free, method="highs")
    return "quasi-complete" if -part.fun > 1e-7 else "none"
print(json.dumps([kind(s["columns"], s["events"]) for s in json.load(sys.stdin)]))`,
      SETS,
    );
    const ours = SETS.map(({ columns, events }) => {
      const found = logisticRegression(columns, events);
      if (!('reason' in found)) return 'none';
      return found.separation ?? 'undefined';
    });
    expect(ours).toEqual(kinds);
    for (const kind of ['complete', 'quasi-complete', 'none', 'undefined']) {
      expect(kinds.filter((one) => one === kind).length, kind).toBeGreaterThan(9);
    }
  });

  it('is not called on one that is close to it', () => {
    // One patient with the event lies a hair under one without it.
    const near = fitOf(logisticRegression([[1, 2, 3, 4.001, 4, 5, 6, 7]], [0, 0, 0, 0, 1, 1, 1, 1]));
    expect(near.slopes[0].value).toBeGreaterThan(3);
    expect(logisticRegression([[1, 2, 3, 4, 4, 5, 6, 7]], [0, 0, 0, 0, 1, 1, 1, 1])).toEqual({
      reason: 'the predictors part some of the outcomes, so that no finite odds ratio is likeliest',
      separation: 'quasi-complete',
    });
    expect(logisticRegression([[1, 2, 3, 3.999, 4, 5, 6, 7]], [0, 0, 0, 0, 1, 1, 1, 1])).toEqual({
      reason: 'the predictors part the outcomes completely, so that no finite odds ratio is likeliest',
      separation: 'complete',
    });
  });
});

describe('a logistic regression without a result', () => {
  it('says why', () => {
    const reasonOf = (columns: number[][], events: number[], weights?: number[]) => {
      const found = logisticRegression(columns, events, weights === undefined ? {} : { weights });
      return 'reason' in found ? found.reason : 'there is one';
    };
    expect(reasonOf([[1, 2, 3]], [1, 1, 1])).toBe('all or none have the event');
    expect(reasonOf([[1, 2, 3]], [1, 0, 0], [0, 2, 2])).toBe('all or none have the event');
    expect(reasonOf([[0.1, 0.1, 0.1]], [1, 0, 1])).toBe('a predictor is the same in all patients');
    expect(
      reasonOf(
        [
          [1, 2, 3, 9],
          [10, 20, 30, 90],
        ],
        [1, 0, 1, 0],
      ),
    ).toBe('a predictor is a combination of the others');
    expect(reasonOf([], [])).toBe('all or none have the event');
  });

  it('is none where what is asked makes no sense', () => {
    const fit = fitOf(logisticRegression([[1, 2, 3, 4]], [1, 0, 1, 0]));
    expect(() => logisticRegression([[1]], [1, 0])).toThrow('Expected 2 values of each predictor, and got 1');
    expect(() => logisticRegression([[Number.NaN, 1]], [1, 0])).toThrow(
      'Expected finite values of predictors',
    );
    expect(() => logisticRegression([[2, 1]], [2, 0])).toThrow('Expected events that are true or false');
    expect(() => logisticRegression([[2, 1]], [1, 0], { weights: [0.5, 1] })).toThrow(
      'Expected whole weights that are not negative',
    );
    expect(() => logisticRegression([[2, 1]], [1, 0], { weights: [1] })).toThrow(
      'Expected a weight for each of 2 patients',
    );
    expect(() => fit.profile(1)).toThrow('Expected the index of one of 1 predictors, and got 1');
    expect(() => fit.logOddsAt([])).toThrow('Expected a finite value of each of 1 predictors');
    expect(() => likelihoodRatio(10, 11, 1)).toThrow(
      'Expected a deviance of at most 10 where there are more coefficients, and got 11',
    );
  });
});

describe('an odds ratio', () => {
  it('is per step, and turns its bounds with it', () => {
    const logOdds = { value: 0.2, lower: -0.1, upper: { reason: 'no end' } };
    const per5 = oddsRatio(logOdds, 5);
    expectSame([orNull(per5.value), orNull(per5.lower)], [Math.E, Math.exp(-0.5)]);
    expect(per5.upper).toEqual({ reason: 'no end' });
    const down = oddsRatio(logOdds, -1);
    expectSame([orNull(down.value), orNull(down.upper)], [Math.exp(-0.2), Math.exp(0.1)]);
    expect(down.lower).toEqual({ reason: 'no end' });
  });
});
