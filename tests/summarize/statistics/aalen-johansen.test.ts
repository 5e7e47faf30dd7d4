import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { aalenJohansen } from '../../../src/summarize/statistics/aalen-johansen.js';
import { kaplanMeier } from '../../../src/summarize/statistics/kaplan-meier.js';
import { expectSame, followed, orNull } from '../../support/followed.js';
import { holds } from '../../support/properties.js';
import { runR } from '../../support/r.js';

interface OfR {
  readonly times: number[];
  readonly causes: number[];
  readonly time: number[];
  readonly atRisk: number[];
  readonly events: number[][];
  readonly incidence: number[][];
  readonly standardError: number[][];
  readonly lower: (number | null)[][];
  readonly upper: (number | null)[][];
}

const INVENTED = Array.from({ length: 20 }, (_, k) => followed(50 + k, 8 + 5 * k, 5 + 6 * k, 2));
let theirs: OfR[] = [];

beforeAll(() => {
  theirs = runR<OfR[]>(
    `library(survival)
     of <- function(times, causes) {
       fit <- survfit(Surv(times, factor(causes, 0:2)) ~ 1, conf.type = "log-log")
       each <- function(m) lapply(2:3, function(k) I(unname(m[, k])))
       list(times = I(times), causes = I(causes), time = I(fit$time), atRisk = I(unname(fit$n.risk[, 1])),
         events = each(fit$n.event), incidence = each(fit$pstate), standardError = each(fit$std.err),
         lower = each(fit$lower), upper = each(fit$upper))
     }
     progressed <- mgus2$pstat == 1
     c(list(of(ifelse(progressed, mgus2$ptime, mgus2$futime), ifelse(progressed, 1, 2 * mgus2$death))),
       Map(of, input$times, input$causes))`,
    { times: INVENTED.map(({ times }) => times), causes: INVENTED.map(({ causes }) => causes) },
  );
});

describe('cumulative incidence', () => {
  // Outside source: R, package survival, survfit of a factor with conf.type = "log-log" (1384 patients of mgus2, whose
  // plasma cells became malignant or who died before, and invented ones), to a relative 1e-9.
  it('is that of R, with its errors and intervals', () => {
    expect(theirs.length).toBe(INVENTED.length + 1);
    for (const one of theirs) {
      const { incidences, count, censored } = aalenJohansen(one.times, one.causes, 2);
      expect(count).toBe(one.times.length);
      expect(censored).toBe(one.causes.filter((cause) => cause === 0).length);
      incidences.forEach(({ steps, events }, k) => {
        expect(events).toBe(one.causes.filter((cause) => cause === k + 1).length);
        expect(steps.map(({ time }) => time)).toEqual(one.time);
        expect(steps.map(({ atRisk }) => atRisk)).toEqual(one.atRisk);
        expect(steps.map((step) => step.events)).toEqual(one.events[k]);
        expectSame(
          steps.map(({ incidence }) => incidence),
          one.incidence[k],
        );
        expectSame(
          steps.map(({ standardError }) => standardError),
          one.standardError[k],
        );
        expectSame(
          steps.map(({ lower }) => orNull(lower)),
          one.lower[k],
        );
        expectSame(
          steps.map(({ upper }) => orNull(upper)),
          one.upper[k],
        );
      });
    }
  });

  it('gives shares by a time and the median from the steps of R', () => {
    const [mgus] = theirs;
    const [malignant, died] = aalenJohansen(mgus.times, mgus.causes, 2).incidences;
    const at = mgus.time.indexOf(120);
    const share = died.shareBy(120.5);
    expectSame([share.value, share.lower, share.upper].map(orNull), [
      mgus.incidence[1][at],
      mgus.lower[1][at],
      mgus.upper[1][at],
    ]);
    const half = (list: (number | null)[]): number =>
      mgus.time[list.findIndex((x) => x !== null && x >= 0.5)];
    expect(died.median).toEqual({
      value: half(mgus.incidence[1]),
      lower: half(mgus.upper[1]),
      upper: half(mgus.lower[1]),
    });
    expect(malignant.median.value).toEqual({
      reason: 'it did not come to one half while they were followed',
    });
  });

  const people = fc.array(
    fc.record({ time: fc.integer({ min: 0, max: 20 }), cause: fc.integer({ min: 0, max: 3 }) }),
    { minLength: 1, maxLength: 40 },
  );

  it('of all causes and the share without an event add up to 1', () => {
    holds(
      fc.property(people, (all) => {
        const times = all.map(({ time }) => time);
        const causes = all.map(({ cause }) => cause);
        const { incidences } = aalenJohansen(times, causes, 3);
        const free = kaplanMeier(
          times,
          causes.map((cause) => cause > 0),
        );
        free.steps.forEach(({ survival }, i) => {
          const sum = incidences.reduce((total, { steps }) => total + steps[i].incidence, survival);
          expect(sum).toBeCloseTo(1, 12);
        });
      }),
    );
  });

  it('of one cause is what the survival curve leaves, with the same standard error', () => {
    holds(
      fc.property(people, (all) => {
        const times = all.map(({ time }) => time);
        const events = all.map(({ cause }) => Math.min(1, cause));
        const [{ steps }] = aalenJohansen(times, events, 1).incidences;
        kaplanMeier(times, events).steps.forEach(({ survival, standardError }, i) => {
          expect(steps[i].incidence).toBeCloseTo(1 - survival, 12);
          expect(steps[i].standardError).toBeCloseTo(orNull(standardError) ?? 0, 12);
        });
      }),
    );
  });

  it('without ends of observation before a time is a plain share with its binomial error', () => {
    const times = [1, 2, 3, 3, 3, 4, 7, 8, 9, 10];
    const causes = [1, 2, 1, 1, 2, 1, 2, 0, 0, 0];
    const step = aalenJohansen(times, causes, 2).incidences[0].steps[4];
    expect(step.time).toBe(7);
    expect(step.incidence).toBeCloseTo(0.4, 12);
    expect(step.standardError).toBeCloseTo(Math.sqrt((0.4 * 0.6) / 10), 12);
  });

  it('says why where there is no number', () => {
    const nobody = aalenJohansen([], [], 2);
    expect(nobody.incidences.map(({ steps }) => steps)).toEqual([[], []]);
    expect(nobody.incidences[1].median.value).toEqual({ reason: 'there is nobody to follow' });
    expect(nobody.incidences[1].shareBy(1).value).toEqual({ reason: 'there is nobody to follow' });

    const [first, second] = aalenJohansen([3, 5, 5], [1, 1, 1], 2).incidences;
    const all = {
      reason: 'it had happened to all by then, so that nothing tells how far off the share may be',
    };
    const yet = {
      reason: 'nothing had happened by then, so that nothing tells how far off the share may be',
    };
    expect(first.shareBy(99)).toEqual({ value: 1, lower: all, upper: all });
    expect(first.shareBy(2)).toEqual({ value: 0, lower: yet, upper: yet });
    expect(second.shareBy(99)).toEqual({ value: 0, lower: yet, upper: yet });
    const open = aalenJohansen([3, 5], [1, 0], 2).incidences[0];
    expect(open.shareBy(5).value).toBe(0.5);
    expect(open.shareBy(5.1).value).toEqual({ reason: 'nobody was followed for longer than 5' });
  });

  it('refuses what are no causes', () => {
    expect(() => aalenJohansen([1], [3], 2)).toThrow(
      'Expected causes that are whole numbers from 0 to 2, and got 3',
    );
    expect(() => aalenJohansen([1], [0], 0)).toThrow('Expected one cause or more, and got 0');
    expect(() => aalenJohansen([1], [], 2)).toThrow('Expected a cause for each of 1 times, and got 0');
  });
});
