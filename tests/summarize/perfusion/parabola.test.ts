import { describe, expect, it } from 'vitest';
import { lowestAt, reaches, weightedParabola } from '../../../src/summarize/perfusion/parabola.js';
import { listOf, noise } from '../../support/noise.js';
import { runPython } from '../../support/python.js';
import { runR } from '../../support/r.js';

interface Case {
  readonly x: number[];
  readonly y: number[];
  readonly w: number[];
}

const CASES: Case[] = Array.from({ length: 40 }, (_, k) => {
  const next = noise(100 + k);
  const count = 5 + (k % 12);
  const x = [...listOf(count, (i) => 42.5 + 5 * (i + (k % 3)))];
  return {
    x,
    y: x.map((one) => 0.0008 * (one - 75) ** 2 - 0.2 + 0.15 * next()),
    w: x.map(() => Math.ceil(5 + 20 * Math.abs(next()))),
  };
});

/** Coefficients of 1, x and x^2, as other tools give them. */
const plain = ({ x, y, w }: Case): { coefficients: number[]; r2: number } => {
  const found = weightedParabola(x, y, w)!;
  const { x0, curvature, slope, intercept, r2 } = found;
  return {
    coefficients: [intercept - slope * x0 + curvature * x0 * x0, slope - 2 * curvature * x0, curvature],
    r2,
  };
};

describe('the weighted parabola', () => {
  // Outside source: R, lm(y ~ x + I(x^2), weights = w) and its r.squared, to a relative 1e-9.
  it('is that of R', () => {
    const theirs = runR<{ coefficients: number[]; r2: number }[]>(
      `lapply(seq_along(input$x), function(i) {
         x <- input$x[[i]]; fit <- lm(input$y[[i]] ~ x + I(x^2), weights = input$w[[i]])
         list(coefficients = unname(coef(fit)), r2 = summary(fit)$r.squared)
       })`,
      { x: CASES.map(({ x }) => x), y: CASES.map(({ y }) => y), w: CASES.map(({ w }) => w) },
    );
    CASES.forEach((one, i) => {
      const ours = plain(one);
      ours.coefficients.forEach((c, k) => {
        expect(Math.abs(c / theirs[i].coefficients[k] - 1)).toBeLessThan(1e-9);
      });
      expect(Math.abs(ours.r2 - theirs[i].r2)).toBeLessThan(1e-9);
    });
  });

  // Outside source: numpy.polyfit, whose weights are square roots of ours, to a relative 1e-9.
  it('is that of numpy', () => {
    const theirs = runPython<number[][]>(
      `import json, sys
import numpy as np
print(json.dumps([list(np.polyfit(c['x'], c['y'], 2, w=np.sqrt(c['w']))[::-1]) for c in json.load(sys.stdin)]))`,
      CASES,
    );
    CASES.forEach((one, i) => {
      plain(one).coefficients.forEach((c, k) => {
        expect(Math.abs(c / theirs[i][k] - 1)).toBeLessThan(1e-9);
      });
    });
  });

  it('has its lowest point and the places of a height where algebra has them', () => {
    const x = [50, 55, 60, 65, 70, 75];
    // 0.001 (x - 63)^2 - 0.1
    const found = weightedParabola(
      x,
      x.map((one) => 0.001 * (one - 63) ** 2 - 0.1),
      x.map(() => 7),
    )!;
    expect(lowestAt(found)).toBeCloseTo(63, 9);
    expect(found.r2).toBeCloseTo(1, 12);
    const [lower, upper] = reaches(found, 0)!;
    expect(lower).toBeCloseTo(53, 9);
    expect(upper).toBeCloseTo(73, 9);
    expect(reaches(found, -0.11)).toBeNull();
  });

  it('is none where the points do not determine one', () => {
    expect(weightedParabola([60, 60, 60], [1, 2, 3], [1, 1, 1])).toBeNull();
    expect(weightedParabola([60, 65], [1, 2], [1, 1])).toBeNull();
  });
});
