import { beforeAll, describe, expect, it } from 'vitest';
import {
  firthRegression,
  logisticRegression,
} from '../../../../src/summarize/statistics/regression/logistic.js';
import { expectSame, orNull } from '../../../support/followed.js';
import { listOf, noise } from '../../../support/noise.js';
import { runPython } from '../../../support/python.js';
import { runR } from '../../../support/r.js';
import { expectNear, fitOf, invented } from './invented.js';

interface OfR {
  readonly columns: number[][];
  readonly events: number[];
  readonly coef: number[];
  readonly vcov: number[][];
  readonly deviance: number;
}

const INVENTED = [invented(3, 25), invented(4, 120)];
let theirs: OfR[] = [];

beforeAll(() => {
  theirs = runR<OfR[]>(
    `data(endometrial, package = "brglm2")
     of <- function(columns, y) {
       X <- as.data.frame(columns); names(X) <- paste0("x", seq_along(columns))
       fit <- glm(y ~ ., binomial, X, method = brglm2::brglmFit, type = "AS_mean", epsilon = 1e-13, maxit = 1000)
       list(columns = lapply(columns, I), events = I(y), coef = unname(coef(fit)), vcov = unname(vcov(fit)),
         deviance = deviance(fit))
     }
     c(list(of(unname(as.list(endometrial[c("NV", "PI", "EH")])), endometrial$HG)), unname(Map(of, input$columns, input$events)))`,
    { columns: INVENTED.map(({ columns }) => columns), events: INVENTED.map(({ events }) => events) },
  );
});

describe("Firth's regression", () => {
  // Outside source: R, package brglm2, of its data endometrial (79 women; quasi-complete separation) and of invented ones.
  it('is that of R', () => {
    expect(theirs.length).toBe(3);
    for (const one of theirs) {
      const fit = fitOf(firthRegression(one.columns, one.events));
      expectNear(
        [fit.intercept, ...fit.slopes].map(({ value }) => value),
        one.coef,
        1e-7,
      );
      expectNear(fit.covariance.flat(), one.vcov.flat(), 1e-7);
      expectNear([fit.deviance], [one.deviance], 1e-8);
    }
  });

  // Outside source: Heinze & Schemper, Stat Med 2002;21:2409-19, their example of endometrial cancer, to the two digits
  // that they give (values from memory).
  it('has the published profile intervals, where plain likelihood has no answer', () => {
    const [{ columns, events }] = theirs;
    expect(logisticRegression(columns, events)).toMatchObject({ separation: 'quasi-complete' });
    const fit = fitOf(firthRegression(columns, events));
    const bounds = [0, 1, 2].map((k) => {
      const { lower, upper } = fit.profile(k);
      return [orNull(lower)!, orNull(upper)!].map((x) => Number(x.toFixed(2)));
    });
    expect(fit.slopes.map(({ value }) => Number(value.toFixed(2)))).toEqual([2.93, -0.03, -2.6]);
    expect(bounds).toEqual([
      [0.61, 7.85],
      [-0.12, 0.04],
      [-4.37, -1.23],
    ]);
  });

  // Brute force: scipy climbs the penalised likelihood, written as its formula, without derivatives of ours.
  it('has the top, the profile bounds and the test of the penalised likelihood', () => {
    const cases = theirs.slice(0, 2).map(({ columns, events }) => {
      const fit = fitOf(firthRegression(columns, events));
      const profiles = columns.map((_, k) => fit.profile(k));
      return {
        fit,
        profiles,
        columns,
        events,
        at: profiles.flatMap(({ lower, upper }, k) => [
          [k, orNull(lower)],
          [k, orNull(upper)],
          [k, 0],
        ]),
      };
    });
    const tops = runPython<{ top: number; held: number[] }[]>(
      `import json, sys, numpy as np
from scipy.optimize import minimize
def climbed(columns, events, at):
    raw = np.array(columns, float).T
    mean, sd = raw.mean(axis=0), raw.std(axis=0)
    X = np.column_stack([np.ones(len(events)), (raw - mean) / sd]); y = np.array(events)
    def minus(b):
        eta = X @ b; p = 1 / (1 + np.exp(-eta))
        return -(np.sum(y * eta - np.logaddexp(0, eta)) + np.linalg.slogdet((X * (p * (1 - p))[:, None]).T @ X)[1] / 2)
    def best(f, n):
        found = np.zeros(n)
        for method in ["BFGS", "Nelder-Mead"]:
            options = {"xatol": 1e-10, "fatol": 1e-13, "maxiter": 20000, "maxfev": 20000} if method == "Nelder-Mead" else {"gtol": 1e-9}
            found = minimize(f, found, method=method, options=options).x
        return -f(found)
    free = X.shape[1]
    return {"top": best(minus, free) + np.log(sd).sum(),
        "held": [best(lambda b: minus(np.insert(b, k + 1, v * sd[k])), free - 1) + np.log(sd).sum() for k, v in at]}
print(json.dumps([climbed(c["columns"], c["events"], c["at"]) for c in json.load(sys.stdin)]))`,
      cases.map(({ columns, events, at }) => ({ columns, events, at })),
    );
    const p = runR<number[][]>(
      'lapply(input, function(x) I(pchisq(unlist(x), 1, lower.tail = FALSE)))',
      tops.map(({ top, held }) => [0, 1, 2].map((k) => 2 * (top - held[3 * k + 2]))),
    );
    cases.forEach(({ fit, profiles }, i) => {
      const { top, held } = tops[i];
      expect(fit.logLikelihood).toBeCloseTo(top, 7);
      profiles.forEach((profile, k) => {
        // 3.841459: the 95 % quantile of chi-square with one degree of freedom.
        expect(2 * (top - held[3 * k])).toBeCloseTo(3.841459, 5);
        expect(2 * (top - held[3 * k + 1])).toBeCloseTo(3.841459, 5);
        expectNear([orNull(profile.p)!], [p[i][k]], 1e-5);
      });
    });
  });

  // Closed form: with as many coefficients as kinds of patients, one half is added to each cell (Firth 1993, section 5).
  it('of a table adds one half to each cell', () => {
    for (const [a, b, c, d] of [
      [12, 5, 7, 21],
      [6, 0, 3, 4],
      [5, 0, 0, 9],
    ]) {
      const fit = fitOf(firthRegression([[1, 1, 0, 0]], [1, 0, 1, 0], { weights: [a, b, c, d] }));
      expectSame(
        [fit.slopes[0].value, fit.intercept.value],
        [Math.log(((a + 0.5) * (d + 0.5)) / ((b + 0.5) * (c + 0.5))), Math.log((c + 0.5) / (d + 0.5))],
      );
    }
  });

  it('comes to the plain one as patients become many, and lies nearer to no effect', () => {
    const { columns, events } = INVENTED[1];
    const distances = [1, 10, 100].map((copies) => {
      const weights = events.map(() => copies);
      const plain = fitOf(logisticRegression(columns, events, { weights }));
      const firth = fitOf(firthRegression(columns, events, { weights }));
      expect(Math.abs(firth.slopes[0].value)).toBeLessThan(Math.abs(plain.slopes[0].value));
      return Math.abs(firth.slopes[0].value - plain.slopes[0].value);
    });
    // The bias that it takes away is of order 1 / n.
    expect(distances[0] / distances[1]).toBeGreaterThan(8);
    expect(distances[1] / distances[2]).toBeGreaterThan(9);
    expect(distances[1] / distances[2]).toBeLessThan(11);
  });

  it('has an answer under complete separation, that does not hang on units', () => {
    const values = [1, 2, 3, 4, 5, 6, 7, 8];
    const events = [0, 0, 0, 0, 1, 1, 1, 1];
    const fit = fitOf(firthRegression([values], events));
    const { lower, upper, p } = fit.profile(0);
    expect(fit.slopes[0].value).toBeGreaterThan(0);
    expect(orNull(lower)!).toBeGreaterThan(0);
    expect(orNull(upper)!).toBeGreaterThan(fit.slopes[0].value);
    expect(orNull(p)!).toBeLessThan(0.05);
    const other = fitOf(firthRegression([values.map((x) => 1000 - 20 * x)], events));
    expectNear(
      [other.slopes[0].value * -20, orNull(other.profile(0).lower)! * -20, orNull(other.profile(0).p)!],
      [fit.slopes[0].value, orNull(upper)!, orNull(p)!],
      1e-7,
    );
  });

  it('says why where it has none', () => {
    expect(firthRegression([[1, 2]], [1, 1])).toEqual({
      reason: 'all or none have the event',
      separation: null,
    });
  });

  // Few patients, long tails and rare signs: what cohorts are like where a search gets lost.
  it('has an answer with bounds in each of many invented cohorts, and plain likelihood one or a separation', () => {
    let plainFits = 0;
    for (let seed = 0; seed < 80; seed++) {
      const draw = noise(seed);
      const count = 10 + ((seed * 13) % 80);
      const columns = [
        listOf(count, () => Math.max(0, draw())),
        listOf(count, () => (draw() > 0.9 ? 1 : 0)),
        listOf(count, () => Math.exp(2 * draw())),
      ].slice(0, 1 + (seed % 3));
      const events = Array.from(columns[0], (x) => (3 * (x - 0.3) + draw() > 0 ? 1 : 0));
      const firth = firthRegression(columns, events);
      const plain = logisticRegression(columns, events);
      if ('reason' in firth) {
        expect(['a predictor is the same in all patients', 'all or none have the event']).toContain(
          firth.reason,
        );
        continue;
      }
      if ('reason' in plain) expect(plain.separation).not.toBeNull();
      else plainFits++;
      for (const fit of 'reason' in plain ? [firth] : [firth, plain]) {
        fit.slopes.forEach(({ value }, k) => {
          const { lower, upper, p } = fit.profile(k);
          expect(orNull(lower)!, `cohort ${seed}`).toBeLessThan(value);
          expect(orNull(upper)!, `cohort ${seed}`).toBeGreaterThan(value);
          // The test refuses no effect where the interval leaves it out.
          expect(orNull(p)! < 0.05).toBe(orNull(lower)! > 0 || orNull(upper)! < 0);
        });
      }
    }
    expect(plainFits).toBeGreaterThan(40);
    expect(plainFits).toBeLessThan(78);
  });
});
