import { beforeAll, describe, expect, it } from 'vitest';
import { kaplanMeier } from '../../../src/summarize/statistics/kaplan-meier.js';
import { expectSame, followed, orNull } from '../../support/followed.js';
import { runR } from '../../support/r.js';

interface OfR {
  readonly times: number[];
  readonly events: number[];
  readonly time: number[];
  readonly atRisk: number[];
  readonly event: number[];
  readonly censored: number[];
  readonly survival: number[];
  readonly standardError: (number | null)[];
  readonly lower: (number | null)[];
  readonly upper: (number | null)[];
  readonly median: (number | null)[];
}

const INVENTED = [
  ...Array.from({ length: 20 }, (_, k) => followed(k, 3 + 4 * k, 5 + 6 * k, 1)),
  // One half exactly, with and without a later event; the longest is known to be longer only.
  { times: [1, 2, 3, 4], causes: [1, 1, 1, 1] },
  { times: [1, 2, 3, 4], causes: [1, 1, 0, 0] },
  { times: [2, 2, 2, 5], causes: [1, 0, 1, 0] },
];

const LEVELS = [0.95, 0.8];
/** By level; first the data sets of the package survival, aml (23 patients) and lung (228). */
let theirs: OfR[][] = [];

beforeAll(() => {
  theirs = runR<OfR[][]>(
    `library(survival)
     lapply(input$levels, function(level) {
       of <- function(times, events) {
         fit <- survfit(Surv(times, events) ~ 1, conf.type = "log-log", conf.int = level)
         brief <- summary(fit, censored = TRUE)
         list(times = I(times), events = I(events), time = I(fit$time), atRisk = I(fit$n.risk), event = I(fit$n.event),
           censored = I(fit$n.censor), survival = I(fit$surv), standardError = I(brief$std.err),
           lower = I(fit$lower), upper = I(fit$upper), median = I(unname(brief$table[7:9])))
       }
       c(list(of(aml$time, aml$status), of(lung$time, as.numeric(lung$status == 2))), Map(of, input$times, input$events))
     })`,
    {
      levels: LEVELS,
      times: INVENTED.map(({ times }) => times),
      events: INVENTED.map(({ causes }) => causes),
    },
  );
});

describe('the survival curve', () => {
  // Outside source: R, package survival, survfit(conf.type = "log-log"), to a relative 1e-9.
  it.each(LEVELS)('is that of R, with its errors, intervals and median, at %d', (level) => {
    const ofLevel = theirs[LEVELS.indexOf(level)];
    expect(ofLevel.length).toBe(INVENTED.length + 2);
    for (const one of ofLevel) {
      const { steps, median, count } = kaplanMeier(one.times, one.events, level);
      expect(count).toBe(one.times.length);
      expect(steps.map(({ time }) => time)).toEqual(one.time);
      expect(steps.map(({ atRisk }) => atRisk)).toEqual(one.atRisk);
      expect(steps.map(({ events }) => events)).toEqual(one.event);
      expect(steps.map(({ censored }) => censored)).toEqual(one.censored);
      expectSame(
        steps.map(({ survival }) => survival),
        one.survival,
      );
      expectSame(
        steps.map(({ standardError }) => orNull(standardError)),
        one.standardError,
      );
      expectSame(
        steps.map(({ lower }) => orNull(lower)),
        one.lower,
      );
      expectSame(
        steps.map(({ upper }) => orNull(upper)),
        one.upper,
      );
      expectSame([orNull(median.value), orNull(median.lower), orNull(median.upper)], one.median);
    }
  });

  // Outside source: R prints median 27, interval 13 to 34, for aml with conf.type = "log-log".
  it('of aml has the median 27', () => {
    const [[aml]] = theirs;
    expect(kaplanMeier(aml.times, aml.events).median).toEqual({ value: 27, lower: 13, upper: 34 });
  });

  it('gives the share by a time as one minus the curve', () => {
    const [[aml]] = theirs;
    const curve = kaplanMeier(aml.times, aml.events);
    const at = aml.time.indexOf(27);
    for (const time of [27, 27.5, 29.999]) {
      const { value, lower, upper } = curve.shareBy(time);
      expect(value).toBeCloseTo(1 - aml.survival[at], 12);
      expect(lower).toBeCloseTo(1 - aml.upper[at]!, 12);
      expect(upper).toBeCloseTo(1 - aml.lower[at]!, 12);
    }
  });

  it('says why where there is no number', () => {
    const nobody = kaplanMeier([], []);
    const empty = { reason: 'there is nobody to follow' };
    expect(nobody.steps).toEqual([]);
    expect(nobody.median).toEqual({ value: empty, lower: empty, upper: empty });
    expect(nobody.shareBy(3)).toEqual({ value: empty, lower: empty, upper: empty });

    const open = kaplanMeier([3, 9, 5], [false, false, false]);
    const yet = {
      reason: 'nothing had happened by then, so that nothing tells how far off the share may be',
    };
    expect(open.events).toBe(0);
    expect(open.median.value).toEqual({ reason: 'it did not come to one half while they were followed' });
    expect(open.median.lower).toEqual({
      reason: 'the bound of the curve did not come to one half while they were followed',
    });
    expect(open.shareBy(9)).toEqual({ value: 0, lower: yet, upper: yet });
    const longer = { reason: 'nobody was followed for longer than 9' };
    expect(open.shareBy(9.01)).toEqual({ value: longer, lower: longer, upper: longer });

    const all = {
      reason: 'it had happened to all by then, so that nothing tells how far off the share may be',
    };
    const ended = kaplanMeier([3, 9], [true, true]);
    expect(ended.shareBy(2)).toEqual({ value: 0, lower: yet, upper: yet });
    expect(ended.shareBy(100)).toEqual({ value: 1, lower: all, upper: all });
    expect(ended.steps[1].standardError).toEqual(all);
  });

  it('refuses what are no times or events', () => {
    expect(() => kaplanMeier([1, 2], [1])).toThrow('Expected a cause for each of 2 times, and got 1');
    expect(() => kaplanMeier([1, Number.NaN], [1, 1])).toThrow('Expected finite times that are not negative');
    expect(() => kaplanMeier([-1], [1])).toThrow('Expected finite times that are not negative, and got -1');
    expect(() => kaplanMeier([1], [2])).toThrow(
      'Expected causes that are whole numbers from 0 to 1, and got 2',
    );
    expect(() => kaplanMeier([1], [1], 1)).toThrow('Expected a level above 0 and below 1, and got 1');
  });
});
