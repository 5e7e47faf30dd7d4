import { describe, expect, it } from 'vitest';
import { normalReach } from '../../../src/summarize/statistics/normal-reach.js';
import { wilsonInterval } from '../../../src/summarize/statistics/wilson-interval.js';
import { expectSame, orNull } from '../../support/followed.js';
import { runR } from '../../support/r.js';

describe('the interval of a share', () => {
  // Outside source: R, prop.test(correct = FALSE), whose interval is that of Wilson, to a relative 1e-9.
  it('is that of R', () => {
    const cases = [1, 2, 5, 10, 37, 1000].flatMap((n) =>
      [0, 1, Math.floor(n / 3), n - 1, n].flatMap((x) => [0.8, 0.95, 0.99].map((level) => ({ x, n, level }))),
    );
    const theirs = runR<number[][]>(
      `suppressWarnings(lapply(seq_along(input$x), function(i)
         prop.test(input$x[i], input$n[i], conf.level = input$level[i], correct = FALSE)$conf.int[1:2]))`,
      { x: cases.map(({ x }) => x), n: cases.map(({ n }) => n), level: cases.map(({ level }) => level) },
    );
    cases.forEach(({ x, n, level }, i) => {
      const { value, lower, upper } = wilsonInterval(x, n, level);
      expect(value).toBe(x / n);
      expectSame([orNull(lower), orNull(upper)], theirs[i]);
    });
  });

  it('says why where there is nothing', () => {
    const reason = { reason: 'there is nothing to take a share of' };
    expect(wilsonInterval(0, 0)).toEqual({ value: reason, lower: reason, upper: reason });
  });

  it.each([
    [3, 2],
    [-1, 2],
    [0.5, 2],
    [1, Number.NaN],
  ])('refuses %d of %d', (x, n) => {
    expect(() => wilsonInterval(x, n)).toThrow(`Expected a count from 0 to its total, and got ${x} of ${n}`);
  });
});

describe('standard deviations that hold a share of a normal distribution', () => {
  // Outside source: R, qnorm, to a relative 1e-13, since (1 + level) / 2 is rounded before R sees it.
  it('are those of R', () => {
    const levels = [0.01, 0.5, 0.6826894921370859, 0.8, 0.9, 0.95, 0.99, 0.999];
    const theirs = runR<number[]>('qnorm((1 + input$levels) / 2)', { levels });
    levels.forEach((level, i) => {
      expect(Math.abs(normalReach(level) / theirs[i] - 1)).toBeLessThan(1e-13);
    });
  });
});
