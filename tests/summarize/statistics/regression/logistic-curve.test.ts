import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { logisticCurve } from '../../../../src/summarize/statistics/regression/logistic-curve.js';
import {
  knotsAt,
  splineColumns,
  splineTerms,
} from '../../../../src/summarize/statistics/regression/restricted-cubic-spline.js';
import { expectSame } from '../../../support/followed.js';
import { holds } from '../../../support/properties.js';
import { runR } from '../../../support/r.js';
import { expectNear, fitOf, invented } from './invented.js';

const {
  columns: [DOSES],
  events: EVENTS,
} = invented(21, 200);
/** As doses are: most small, few very large. */
const LONG_TAILED = DOSES.map((dose) => Math.exp(dose / 12 - 3));
const AT = [-30, 0, 10, 25, 40, 55, 90, 150];

const someKnots = fc
  .uniqueArray(fc.integer({ min: -20, max: 100 }), { minLength: 3, maxLength: 6 })
  .map((knots) => knots.sort((a, b) => a - b));

describe('a restricted cubic spline', () => {
  it('is a straight line beyond the outer knots', () => {
    holds(
      fc.property(someKnots, fc.integer({ min: 1, max: 40 }), (knots, away) => {
        const [first, last] = [knots[0], knots[knots.length - 1]];
        const bend = (x: number): number[] => {
          const [a, b, c] = [x - 1, x, x + 1].map((own) => splineTerms(own, knots));
          return b.map((term, k) => a[k] - 2 * term + c[k]);
        };
        for (const value of [...bend(last + 1 + away), ...bend(first - 1 - away)]) {
          expect(Math.abs(value)).toBeLessThan(1e-9);
        }
        expect(splineTerms(first - away, knots).slice(1)).toEqual(knots.slice(2).map(() => 0));
      }),
    );
  });

  it('has no step in its second derivative, and one in its third at each knot', () => {
    const knots = [3, 7, 12, 20, 31];
    /** Of order 0 to 3 on one side of x, from values there alone: each piece is a cubic, so differences are exact. */
    const derivatives = (x: number, side: 1 | -1): number[][] => {
      const h = 0.5 * side;
      const [f0, f1, f2, f3] = [0, 1, 2, 3].map((i) => splineTerms(x + i * h, knots));
      return [
        f0,
        f0.map((_, k) => (-11 * f0[k] + 18 * f1[k] - 9 * f2[k] + 2 * f3[k]) / (6 * h)),
        f0.map((_, k) => (2 * f0[k] - 5 * f1[k] + 4 * f2[k] - f3[k]) / (h * h)),
        f0.map((_, k) => (-f0[k] + 3 * f1[k] - 3 * f2[k] + f3[k]) / h ** 3),
      ];
    };
    for (const knot of knots) {
      const [left, right] = [derivatives(knot, -1), derivatives(knot, 1)];
      for (const order of [0, 1, 2]) {
        left[order].forEach((value, k) => {
          expect(right[order][k]).toBeCloseTo(value, 9);
        });
      }
      expect(Math.max(...left[3].map((value, k) => Math.abs(right[3][k] - value)))).toBeGreaterThan(1e-3);
    }
  });

  // Outside source: R, splines::ns with the same knots spans the same curves, so that fitted values agree to 1e-9.
  it('spans the curves of R', () => {
    const sets = [3, 4, 5].map((count) => {
      const knots = knotsAt(DOSES, count as 3 | 4 | 5) as number[];
      return { knots, columns: splineColumns(DOSES, knots).map((column) => Array.from(column)) };
    });
    const theirs = runR<{ ours: number[]; theirs: number[]; quantiles: number[] }[]>(
      `library(splines)
       unname(Map(function(knots, columns) {
         x <- input$doses; k <- length(knots); y <- sin(x / 15) + seq_along(x) / 300
         at <- list("3" = c(.1, .5, .9), "4" = c(.05, .35, .65, .95), "5" = c(.05, .275, .5, .725, .95))
         list(ours = fitted(lm(y ~ ., as.data.frame(columns, col.names = paste0("t", seq_along(columns))))) |> unname(),
           theirs = unname(fitted(lm(y ~ ns(x, knots = knots[2:(k - 1)], Boundary.knots = knots[c(1, k)])))),
           quantiles = unname(quantile(x, at[[as.character(k)]])))
       }, input$knots, input$columns))`,
      { doses: DOSES, knots: sets.map(({ knots }) => knots), columns: sets.map(({ columns }) => columns) },
    );
    theirs.forEach((one, i) => {
      expectSame(one.ours, one.theirs);
      expectSame(sets[i].knots, one.quantiles);
    });
  });

  it('says why where knots fall together', () => {
    const reason = 'too many patients have the same value for a curve: two of its knots fall together';
    expect(knotsAt([0, 0, 0, 0, 0, 0, 0, 3, 9, 11], 4)).toEqual({ reason });
    expect(knotsAt([0, 1, 2, 3, 4], [0, 0.5, 1])).toEqual([0, 2, 4]);
    expect(() => knotsAt([1, 2, 3], [0.1, 0.9])).toThrow('Expected three quantiles or more, from 0 to 1');
    expect(() => knotsAt([], 4)).toThrow('Expected finite values, one or more');
    expect(() => splineTerms(1, [2, 1, 3])).toThrow('Expected three knots or more, rising');
  });
});

describe('the chance of an event over a predictor', () => {
  // Outside source: R, glm on splines::ns with predict(se.fit = TRUE) and anova(test = "LRT"), to 1e-7.
  it.each([
    ['doses', DOSES],
    ['doses with a long tail', LONG_TAILED],
  ])('is that of R, with its interval and tests, over %s', (_, doses) => {
    const sets = [3, 4, 5].map((knots) =>
      fitOf(logisticCurve(doses, EVENTS, AT, { knots: knots as 3 | 4 | 5 })),
    );
    const theirs = runR<{ eta: number[]; se: number[]; bent: number[]; any: number[] }[]>(
      `library(splines)
       unname(lapply(input$knots, function(knots) {
         x <- input$doses; y <- input$events; k <- length(knots); tight <- glm.control(epsilon = 1e-14)
         spline <- y ~ ns(x, knots = knots[2:(k - 1)], Boundary.knots = knots[c(1, k)])
         # R's errors are those of the step before the last, so it starts once more from where it ended.
         fit <- glm(spline, binomial, control = tight, start = coef(glm(spline, binomial, control = tight)))
         at <- predict(fit, data.frame(x = input$at), se.fit = TRUE)
         test <- function(smaller) { a <- anova(smaller, fit, test = "LRT"); c(a$Deviance[2], a$Df[2], a[["Pr(>Chi)"]][2]) }
         list(eta = unname(at$fit), se = unname(at$se.fit), bent = test(glm(y ~ x, binomial, control = tight)),
           any = test(glm(y ~ 1, binomial, control = tight)))
       }))`,
      { doses, events: EVENTS, at: AT, knots: sets.map(({ knots }) => knots) },
    );
    sets.forEach(({ points, nonLinearity, association }, i) => {
      const one = theirs[i];
      expectNear(
        points.map(({ logOdds }) => logOdds.value),
        one.eta,
        1e-7,
      );
      expectNear(
        points.map(({ logOdds }) => logOdds.standardError),
        one.se,
        1e-7,
      );
      expectNear([nonLinearity.chiSquare, nonLinearity.freedom, nonLinearity.p], one.bent, 1e-7);
      expectNear([association.chiSquare, association.freedom, association.p], one.any, 1e-7);
      points.forEach(({ probability, lower, upper, at }, k) => {
        expect(at).toBe(AT[k]);
        const chance = (x: number): number => 1 / (1 + Math.exp(-x));
        expectSame(
          [probability, lower, upper],
          [0, -1, 1].map((side) =>
            chance(points[k].logOdds.value + side * 1.959963984540054 * points[k].logOdds.standardError),
          ),
        );
      });
    });
  });

  it('says why where there is none', () => {
    expect(logisticCurve([], [], AT)).toEqual({ reason: 'there are no patients', separation: null });
    expect(logisticCurve([0, 0, 0, 0, 0, 0, 1, 2], [0, 1, 0, 1, 0, 1, 0, 1], AT)).toMatchObject({
      reason: 'too many patients have the same value for a curve: two of its knots fall together',
    });
    const parted = logisticCurve(
      DOSES,
      DOSES.map((dose) => dose > 50),
      AT,
    );
    expect(parted).toMatchObject({ separation: 'complete' });
  });
});
