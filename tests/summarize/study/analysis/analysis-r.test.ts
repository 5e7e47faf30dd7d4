import { describe, expect, it } from 'vitest';
import type { Figure } from '../../../../src/summarize/figure.js';
import { cutOdds } from '../../../../src/summarize/study/analysis/cut-odds.js';
import type { FeatureAnalysis } from '../../../../src/summarize/study/analysis/feature-analysis.js';
import { featureCases } from '../../../../src/summarize/study/analysis/feature-cases.js';
import { analyseOutcome } from '../../../../src/summarize/study/analysis/outcome-analysis.js';
import { USUAL_CUTS } from '../../../../src/summarize/study/analysis/outcome-groups.js';
import type { OddsRatio } from '../../../../src/summarize/study/analysis/step-odds.js';
import { runR } from '../../../support/r.js';
import { expectNear } from '../../statistics/regression/invented.js';
import { found, inventedCohort } from './invented-cohort.js';

interface Model {
  readonly or: number[];
  readonly p: number;
  readonly n: number;
}

interface OfR {
  readonly quartiles: number[][];
  readonly w: number;
  readonly p: number;
  readonly auc: number[];
  readonly alone: Model;
  readonly adjusted: Model;
  readonly same: number;
  readonly polr: Model;
  readonly polrAdjusted: Model;
  /** By the lowest level on the better side. */
  readonly cuts: (Model & { readonly from: number; readonly worse: number })[];
}

const KEYS = ['dose', 'other', 'sometimes'];
const STEPS = [10, 5, 5];

/** Everything at once as R has it: base, pROC, MASS and splines. */
const SCRIPT = `suppressMessages({ library(MASS); library(pROC); library(splines) })
  d <- as.data.frame(lapply(input$table, as.numeric))
  d <- d[!is.na(d$gose), ]
  d$ev <- as.numeric(d$gose < 5); d$worse <- factor(-d$gose)
  likelihood <- function(big, small) unname(pchisq(2 * as.numeric(logLik(big) - logLik(small)), 1, lower.tail = FALSE))
  logistic <- function(form, less, data) {
    fit <- glm(form, binomial, data, epsilon = 1e-12); smaller <- glm(less, binomial, data, epsilon = 1e-12)
    list(or = I(unname(exp(c(coef(fit)["x"], confint.default(fit)["x", ], suppressMessages(confint(fit)["x", ]))))),
      p = likelihood(fit, smaller), n = nrow(data))
  }
  ordinal <- function(form, less, data) {
    fit <- polr(form, data, Hess = TRUE); smaller <- polr(less, data, Hess = TRUE)
    bounds <- suppressMessages(confint(fit)); if (is.matrix(bounds)) bounds <- bounds["x", ]
    list(or = I(unname(exp(c(coef(fit)["x"], confint.default(fit)["x", ], bounds)))), p = likelihood(fit, smaller), n = nrow(data))
  }
  more <- "+ ageYears + gcsTotal + pupilsReacting"
  features <- Map(function(key, step) {
    f <- d[!is.na(d[[key]]), ]; f$x <- f[[key]] / step
    v <- f[[key]]
    quartiles <- lapply(0:1, function(e) I(unname(quantile(v[f$ev == e], c(0.5, 0.25, 0.75)))))
    t <- suppressWarnings(wilcox.test(v[f$ev == 1], v[f$ev == 0]))
    r <- roc(f$ev, v, levels = c(0, 1), direction = "<", quiet = TRUE)
    cc <- f[complete.cases(f[, c("ageYears", "gcsTotal", "pupilsReacting")]), ]
    with <- function(y) as.formula(paste(y, "~ x", more)); without <- function(y) as.formula(paste(y, "~ 1", more))
    list(quartiles = quartiles, w = unname(t$statistic), p = t$p.value, auc = I(as.numeric(ci.auc(r))),
      alone = logistic(ev ~ x, ev ~ 1, f), adjusted = logistic(with("ev"), without("ev"), cc),
      same = unname(exp(coef(glm(ev ~ x, binomial, cc))["x"])),
      polr = ordinal(worse ~ x, worse ~ 1, f), polrAdjusted = ordinal(with("worse"), without("worse"), cc),
      cuts = unname(lapply(Filter(function(k) min(sum(f$gose < k), sum(f$gose >= k)) >= 10, sort(unique(f$gose))), function(k) {
        f$under <- as.numeric(f$gose < k)
        c(logistic(under ~ x, under ~ 1, f), from = k, worse = sum(f$under))
      })))
  }, unlist(input$keys), input$steps)
  f <- d[!is.na(d$other), ]
  q <- quantile(f$other, c(0.25, 0.5, 0.75)); g <- 1 + (f$other > q[1]) + (f$other > q[2]) + (f$other > q[3])
  shares <- lapply(1:4, function(k) { t <- prop.test(sum(f$ev[g == k]), sum(g == k), correct = FALSE)
    I(c(sum(f$ev[g == k]), sum(g == k), t$estimate, t$conf.int)) })
  k <- quantile(f$other, c(0.05, 0.35, 0.65, 0.95))
  curve <- glm(ev ~ ns(other, knots = k[2:3], Boundary.knots = k[c(1, 4)]), binomial, f, epsilon = 1e-12)
  line <- glm(ev ~ other, binomial, f, epsilon = 1e-12)
  at <- seq(quantile(f$other, 0.025), quantile(f$other, 0.975), length.out = 41)
  on <- predict(curve, data.frame(other = at), se.fit = TRUE)
  z <- qnorm(0.975)
  list(features = unname(features), holm = I(unname(p.adjust(sapply(features, function(x) x$p), "holm"))),
    holmPolr = I(unname(p.adjust(sapply(features, function(x) x$polr$p), "holm"))), shares = shares,
    curve = list(I(unname(at)), I(unname(plogis(on$fit))), I(unname(plogis(on$fit - z * on$se.fit))), I(unname(plogis(on$fit + z * on$se.fit)))),
    bent = pchisq(deviance(line) - deviance(curve), 2, lower.tail = FALSE),
    association = pchisq(curve$null.deviance - deviance(curve), 3, lower.tail = FALSE))`;

const numbers = (figures: readonly Figure[]): number[] =>
  figures.map((figure) => (typeof figure === 'number' ? figure : Number.NaN));

const oddsOf = ({ value, wald, profile }: OddsRatio): number[] =>
  numbers([value, wald.lower, wald.upper, profile.lower, profile.upper]);

function expectFeature(ours: FeatureAnalysis, theirs: OfR): void {
  const { groups, adjusted, tests } = ours;
  expect(numbers([groups.pairsHigher])).toEqual([theirs.w]);
  const { favourable, unfavourable } = groups.spread;
  for (const [i, side] of [favourable, unfavourable].entries()) {
    expectNear(numbers([side.median, side.lowerQuartile, side.upperQuartile]), theirs.quartiles[i], 1e-12);
  }
  const { area } = groups;
  expectNear(numbers([groups.p, area.lower, area.value, area.upper]), [theirs.p, ...theirs.auc], 1e-9);
  const logistic = found(ours.logistic);
  const fitted = found(adjusted.logistic);
  expect([logistic.patients, fitted.patients, adjusted.complete]).toEqual([
    theirs.alone.n,
    theirs.adjusted.n,
    theirs.adjusted.n,
  ]);
  for (const [odds, model] of [
    [logistic, theirs.alone],
    [fitted, theirs.adjusted],
  ] as const) {
    // Errors of R are from the weights of its last step but one, and its profile is a spline of the likelihood's root.
    expectNear(oddsOf(odds).slice(0, 3), model.or.slice(0, 3), 1e-6);
    expectNear(oddsOf(odds).slice(3), model.or.slice(3), 2e-4);
    expectNear(numbers([odds.profile.p]), [model.p], 1e-7);
  }
  expectNear(numbers([adjusted.unadjusted]), [theirs.same], 1e-6);
  for (const [odds, model] of [
    [found(ours.ordinal), theirs.polr],
    [found(adjusted.ordinal), theirs.polrAdjusted],
  ] as const) {
    expect(odds.patients).toBe(model.n);
    // Its search ends at 1e-6 or so, and its errors come from finite differences.
    expectNear(oddsOf(odds), model.or, 1e-3);
    expectNear(numbers([odds.profile.p]), [model.p], 1e-3);
  }
  expect(tests.adjustedLogistic.p).toBe(fitted.profile.p);
}

describe('the analysis of a cohort', () => {
  // Outside source: R, with quantile, wilcox.test, pROC's ci.auc, glm with its confint (also at each cut of the scale), MASS::polr with its confint,
  // p.adjust, prop.test, and splines::ns, which spans the same curves.
  it('is that of R from end to end', () => {
    const patients = inventedCohort(41, 160);
    const column = (of: (one: (typeof patients)[number]) => Figure | null): (number | null)[] =>
      patients.map((one) => {
        const figure = of(one);
        return typeof figure === 'number' ? figure : null;
      });
    const table = {
      ...Object.fromEntries(KEYS.map((key) => [key, column(({ features }) => features[key])])),
      ageYears: column(({ ageYears }) => ageYears),
      gcsTotal: column(({ gcsTotal }) => gcsTotal),
      pupilsReacting: column(({ pupilsReacting }) => pupilsReacting),
      gose: column(({ outcome }) => (outcome?.scale === 'gose' ? outcome.value : null)),
    };
    const theirs = runR<{
      features: OfR[];
      holm: number[];
      holmPolr: number[];
      shares: number[][];
      curve: number[][];
      bent: number;
      association: number;
    }>(SCRIPT, { table, keys: KEYS, steps: STEPS });
    const ours = analyseOutcome(patients, {
      cut: USUAL_CUTS.gose,
      chosen: KEYS.map((key, i) => ({ key, step: STEPS[i] })),
      adjusters: ['ageYears', 'gcsTotal', 'pupilsReacting'],
    });
    theirs.features.forEach((one, i) => {
      expectFeature(ours.features[i], one);
    });
    theirs.features.forEach(({ cuts }, i) => {
      const { values, codes } = featureCases(ours.groups, KEYS[i]);
      const own = cutOdds(values, codes, STEPS[i]).filter(({ odds }) => !('reason' in odds));
      expect(own.map(({ from, worse }) => [from, worse])).toEqual(
        cuts.map(({ from, worse }) => [from, worse]),
      );
      expect(own.length).toBeGreaterThan(4);
      cuts.forEach((model, k) => {
        const odds = found(own[k].odds);
        expect([odds.patients, own[k].worse + own[k].better]).toEqual([model.n, model.n]);
        expectNear(oddsOf(odds).slice(0, 3), model.or.slice(0, 3), 1e-6);
        expectNear(oddsOf(odds).slice(3), model.or.slice(3), 2e-4);
        expectNear(numbers([odds.profile.p]), [model.p], 1e-7);
      });
    });
    const holm = (kind: 'rankSum' | 'ordinal') =>
      numbers(ours.features.map(({ tests }) => tests[kind].holmP));
    expectNear(holm('rankSum'), theirs.holm, 1e-9);
    expectNear(holm('ordinal'), theirs.holmPolr, 1e-3);
    const response = ours.doseResponses[1];
    const { groups } = found(response.byQuantile);
    groups.forEach(({ patients: count, unfavourable, share }, i) => {
      expectNear(
        numbers([unfavourable, count, share.value, share.lower, share.upper]),
        theirs.shares[i],
        1e-9,
      );
    });
    expect(groups.length).toBe(4);
    const curve = found(response.curve);
    const points = [
      curve.points.map(({ at }) => at),
      curve.points.map(({ probability }) => probability),
      curve.points.map(({ lower }) => lower),
      curve.points.map(({ upper }) => upper),
    ];
    points.forEach((row, i) => {
      expectNear(row, theirs.curve[i], 1e-6);
    });
    expectNear([curve.nonLinearity.p, curve.association.p], [theirs.bent, theirs.association], 1e-6);
  });
});
