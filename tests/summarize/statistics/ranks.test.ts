import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fisherExact } from '../../../src/summarize/statistics/fisher-exact.js';
import { holmAdjusted } from '../../../src/summarize/statistics/holm.js';
import { rankSumDistribution } from '../../../src/summarize/statistics/rank-sum-distribution.js';
import { rankSumTest } from '../../../src/summarize/statistics/rank-sum-test.js';
import { spearmanRho } from '../../../src/summarize/statistics/spearman.js';
import { chiSquareTail, twoSidedTail } from '../../../src/summarize/statistics/tails.js';
import { expectSame, orNull } from '../../support/followed.js';
import { listOf, noise } from '../../support/noise.js';
import { holds } from '../../support/properties.js';
import { runR } from '../../support/r.js';

/** Invented pairs of groups; with `tenths`, rounded so that many are the same. */
function groups(seed: number, m: number, n: number, tenths: boolean): [number[], number[]] {
  const draw = noise(seed);
  const value = (shift: number): number => {
    const x = draw() + shift;
    return tenths ? Math.round(4 * x) / 4 : x;
  };
  return [Array.from(listOf(m, () => value(0.4))), Array.from(listOf(n, () => value(0)))];
}

const PAIRS = [
  ...[1, 2, 5, 12, 49].map((m, i) => groups(10 + i, m, 3 * i + 4, false)),
  groups(20, 49, 49, false),
  groups(21, 50, 7, false),
  ...[1, 6, 30, 90].map((m, i) => groups(30 + i, m, 10 * i + 3, true)),
];

describe('the rank sum test', () => {
  // Outside source: R, wilcox.test as it is, and with exact = FALSE, to a relative 1e-9.
  it('is that of R', () => {
    const theirs = runR<{
      w: number[];
      p: number[];
      normal: number[];
      asah: { w: number; p: number } & Group;
    }>(
      `suppressWarnings({
         data(aSAH, package = "pROC")
         of <- function(exact) Map(function(x, y) wilcox.test(x, y, exact = exact), input$first, input$second)
         plain <- of(NULL); normal <- of(FALSE)
         poor <- aSAH$outcome == "Poor"
         a <- wilcox.test(aSAH$s100b[!poor], aSAH$s100b[poor])
         list(w = I(unname(sapply(plain, function(t) t$statistic))), p = I(unname(sapply(plain, function(t) t$p.value))),
           normal = I(unname(sapply(normal, function(t) t$p.value))),
           asah = list(w = unname(a$statistic), p = a$p.value, first = aSAH$s100b[!poor], second = aSAH$s100b[poor]))
       })`,
      { first: PAIRS.map(([first]) => first), second: PAIRS.map(([, second]) => second) },
    );
    const ours = PAIRS.map(([first, second]) => rankSumTest(first, second));
    expect(ours.filter(({ method }) => method === 'exact').length).toBe(6);
    expect(ours.map(({ pairsHigher }) => pairsHigher)).toEqual(theirs.w);
    expectSame(
      ours.map(({ p }) => orNull(p)),
      theirs.p,
    );
    expectSame(
      PAIRS.map(([first, second]) => orNull(rankSumTest(first, second, 'normal').p)),
      theirs.normal,
    );
    // 113 patients after subarachnoid haemorrhage: W = 793, p = 4.509e-05.
    const { first, second, w, p } = theirs.asah;
    expect(w).toBe(793);
    expect(p).toBeCloseTo(4.509e-5, 8);
    const asah = rankSumTest(first, second);
    expect(asah).toMatchObject({ pairsHigher: 793, method: 'normal' });
    expectSame([orNull(asah.p)], [p]);
  });

  it('has the exact distribution of all orders', () => {
    // Brute force: each way to choose which 3 of 7 places are of the first group.
    const counts = new Array(13).fill(0);
    for (let a = 0; a < 7; a++)
      for (let b = a + 1; b < 7; b++) for (let c = b + 1; c < 7; c++) counts[a + b + c - 3]++;
    expectSame(
      Array.from(rankSumDistribution(3, 4)),
      counts.map((count) => count / 35),
    );
  });

  it('tells the same of the groups the other way round', () => {
    holds(
      fc.property(list(1, 12), list(1, 12), (first, second) => {
        const [there, back] = [rankSumTest(first, second), rankSumTest(second, first)];
        expect(there.pairsHigher + back.pairsHigher).toBe(first.length * second.length);
        expectSame([orNull(there.p)], [orNull(back.p)]);
      }),
    );
  });

  it('says why where there is no p', () => {
    expect(rankSumTest([], [1]).p).toEqual({ reason: 'one of the two groups is empty' });
    expect(rankSumTest([2, 2], [2]).p).toEqual({ reason: 'all values are the same' });
    expect(() => rankSumTest([Number.NaN], [1])).toThrow('Expected finite values');
  });
});

interface Group {
  readonly first: number[];
  readonly second: number[];
}

/** Whole numbers, of which many are the same. */
const list = (minLength: number, maxLength: number) =>
  fc.array(fc.integer({ min: -6, max: 6 }), { minLength, maxLength });

describe('adjusting for several questions', () => {
  // Outside source: R, p.adjust(method = "holm").
  it('is that of R', () => {
    const families = [
      [],
      [0.03],
      [0.01, 0.04, 0.03, 0.005],
      [0.5, 0.5, 0.9, 0],
      [0.001, 0.001, 0.2, 1, 0.02, 0.021],
    ];
    const theirs = runR<number[][]>('lapply(input, function(p) I(p.adjust(unlist(p), "holm")))', families);
    families.forEach((family, i) => {
      expectSame(holmAdjusted(family), theirs[i]);
    });
  });

  it('keeps the order of values, and never makes one smaller', () => {
    holds(
      fc.property(fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 20 }), (values) => {
        const adjusted = holmAdjusted(values);
        values.forEach((p, i) => {
          expect(adjusted[i]).toBeGreaterThanOrEqual(p);
          expect(adjusted[i]).toBeLessThanOrEqual(Math.min(1, p * values.length));
          values.forEach((q, j) => {
            if (p <= q) expect(adjusted[i]).toBeLessThanOrEqual(adjusted[j]);
          });
        });
      }),
    );
    expect(() => holmAdjusted([1.1])).toThrow('Expected values from 0 to 1');
  });
});

describe('the rank correlation', () => {
  // Outside source: R, cor(method = "spearman"), with and without ties.
  it('is that of R', () => {
    const theirs = runR<number[]>(
      'unname(mapply(function(x, y) { n <- min(length(x), length(y)); cor(x[1:n], y[1:n], method = "spearman") }, input$first, input$second))',
      { first: LONG.map(([first]) => first), second: LONG.map(([, second]) => second) },
    );
    expectSame(
      LONG.map(([a, b]) => {
        const n = Math.min(a.length, b.length);
        return orNull(spearmanRho(a.slice(0, n), b.slice(0, n)));
      }),
      theirs,
    );
  });

  it('is 1 of what rises together, and says why where there is none', () => {
    expect(spearmanRho([1, 2, 3, 9], [-4, 0, 8, 9])).toBe(1);
    expect(spearmanRho([1, 2, 3, 9], [5, 4, 3, -7])).toBe(-1);
    expect(spearmanRho([1], [2])).toEqual({ reason: 'a correlation needs two pairs' });
    expect(spearmanRho([1, 1], [2, 3])).toEqual({ reason: 'all values of one of the two are the same' });
    expect(() => spearmanRho([1], [2, 3])).toThrow(
      'Expected as many of one as of the other, and got 1 and 2',
    );
  });
});

const LONG = PAIRS.filter(([a, b]) => Math.min(a.length, b.length) > 1);

describe('the exact test of a table', () => {
  // Outside source: R, fisher.test.
  it('is that of R', () => {
    const tables: [[number, number], [number, number]][] = [
      [
        [3, 1],
        [1, 3],
      ],
      [
        [0, 5],
        [7, 2],
      ],
      [
        [10, 10],
        [10, 10],
      ],
      [
        [1, 200],
        [14, 150],
      ],
      [
        [30, 12],
        [9, 41],
      ],
      [
        [2, 0],
        [0, 0],
      ],
      [
        [0, 9],
        [0, 4],
      ],
      [
        [700, 450],
        [300, 260],
      ],
    ];
    const theirs = runR<number[]>(
      'sapply(input, function(t) fisher.test(matrix(unlist(t), 2))$p.value)',
      tables,
    );
    expectSame(tables.map(fisherExact), theirs);
    // Value from memory: the lady who tastes tea, three of four cups right.
    expect(fisherExact(tables[0])).toBeCloseTo(0.4857, 4);
  });

  it('is the same of the table turned over', () => {
    const count = fc.integer({ min: 0, max: 30 });
    holds(
      fc.property(count, count, count, count, (a, b, c, d) => {
        const p = fisherExact([
          [a, b],
          [c, d],
        ]);
        expectSame(
          [p, p, p],
          [
            fisherExact([
              [c, d],
              [a, b],
            ]),
            fisherExact([
              [b, a],
              [d, c],
            ]),
            fisherExact([
              [a, c],
              [b, d],
            ]),
          ],
        );
      }),
    );
    expect(() =>
      fisherExact([
        [0.5, 1],
        [1, 1],
      ]),
    ).toThrow('Expected whole counts that are not negative');
  });
});

describe('tails', () => {
  // Outside source: R, pchisq and pnorm.
  it('are those of R', () => {
    const xs = [0, 1e-8, 0.3, 1, 3.84, 12, 55, 400];
    const theirs = runR<{ chi: number[][]; normal: number[] }>(
      `list(chi = lapply(1:9, function(df) I(pchisq(input, df, lower.tail = FALSE))),
         normal = 2 * pnorm(-sqrt(input)))`,
      xs,
    );
    theirs.chi.forEach((row, i) => {
      xs.forEach((x, k) => {
        const tail = chiSquareTail(x, i + 1);
        expect(Math.abs(tail - row[k])).toBeLessThanOrEqual(1e-11 * row[k]);
      });
    });
    xs.forEach((x, k) => {
      expect(twoSidedTail(Math.sqrt(x))).toBeCloseTo(theirs.normal[k], 12);
    });
    expect(chiSquareTail(-1, 2)).toBe(1);
    expect(chiSquareTail(Number.POSITIVE_INFINITY, 3)).toBe(0);
    expect(() => chiSquareTail(1, 0)).toThrow('Expected one whole degree of freedom or more, and got 0');
  });
});
