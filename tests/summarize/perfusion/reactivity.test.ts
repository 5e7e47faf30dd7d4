import { describe, expect, it } from 'vitest';
import { wholeOf } from '../../../src/recording/pieces.js';
import { withoutIntervals } from '../../../src/recording/signal.js';
import { indexFigures } from '../../../src/summarize/perfusion/index-figures.js';
import {
  courseBehind,
  MINUTE_INDEX,
  PRX,
  type ReactivityForm,
  reactivityIn,
} from '../../../src/summarize/perfusion/reactivity.js';
import { listOf, wandering } from '../../support/noise.js';
import { runPython } from '../../support/python.js';
import { seconds } from '../../support/shapes.js';
import { everySeconds, T0 } from '../../support/signals.js';

/** Hours at 1 Hz of ICP that partly follows MAP. */
function pair(hours: number, seed: number) {
  const [a, b, c] = [wandering(seed, 0.98), wandering(seed + 1, 0.98), wandering(seed + 2, 0.98)];
  const shared = listOf(hours * 3600 + 1, a);
  const icp = everySeconds(1, [...shared.map((x) => 14 + 1.5 * x + b())]);
  const map = everySeconds(1, [...shared.map((x) => 85 + 4 * x + 3 * c())]);
  return { icp, map };
}

const course = (icp: ReturnType<typeof everySeconds>, map: typeof icp, form: ReactivityForm, ms = 1000) => {
  const found = reactivityIn(
    { signal: icp, intervalMs: ms },
    { signal: map, intervalMs: ms },
    form,
    wholeOf(icp),
  );
  if (typeof found === 'string') throw new Error(found);
  return found.course;
};

describe('reactivity from samples every second', () => {
  // Outside source: numpy. Means of each bin are numpy.trapezoid over its samples, both ends inside, where the samples of
  // half a bin or more have both neighbours; r is numpy.corrcoef over the bins known in both; to 1e-9.
  const NUMPY = `
import json, sys
import numpy as np
trapezoid = getattr(np, 'trapezoid', None) or np.trapz
q = json.load(sys.stdin)
def bins(x, n):
    x = np.array(x, dtype=float); out = []
    for k in range((len(x) - 1) // n):
        w = x[k * n:k * n + n + 1]; ok = ~np.isnan(w[:-1]) & ~np.isnan(w[1:])
        area = np.where(ok, (w[:-1] + w[1:]) / 2, 0).sum()
        out.append(area / ok.sum() if ok.sum() * 2 >= n else np.nan)
    return np.array(out)
a, b = bins(q['icp'], q['n']), bins(q['map'], q['n'])
per = 60 // q['n']; out = []
for end in range(per, len(a) + 1, per):
    x, y = a[max(0, end - q['pairs']):end], b[max(0, end - q['pairs']):end]
    ok = ~np.isnan(x) & ~np.isnan(y)
    out.append(float(np.corrcoef(x[ok], y[ok])[0, 1]) if ok.sum() * 2 >= q['pairs'] else None)
print(json.dumps(out))`;

  for (const [name, form, hours] of [
    ['PRx', PRX, 3],
    ['the index from minute data', MINUTE_INDEX, 6],
  ] as const) {
    it(`is that of numpy: ${name}`, () => {
      const { icp, map } = pair(hours, 61);
      const icpOut = [seconds(2000, 2003), seconds(4000, 4400), seconds(5001, 5008)];
      const mapOut = [seconds(2100, 2104), seconds(6000, 6900), seconds(7000, 7050)];
      const [left, right] = [withoutIntervals(icp, icpOut), withoutIntervals(map, mapOut)];
      const { firstEnd, values } = course(left, right, form);
      expect(firstEnd).toBe(T0 + 60_000);
      const without = (values: Float64Array, out: { start: number; end: number }[]) =>
        [...values].map((x, i) =>
          out.some(({ start, end }) => T0 + i * 1000 >= start && T0 + i * 1000 <= end) ? null : x,
        );
      const theirs = runPython<(number | null)[]>(NUMPY, {
        icp: without(icp.values, icpOut),
        map: without(map.values, mapOut),
        n: form.binMs / 1000,
        pairs: form.pairs,
      });
      expect(values).toHaveLength(theirs.length);
      expect(theirs.filter((r) => r !== null).length).toBeGreaterThan(0.7 * theirs.length);
      theirs.forEach((r, i) => {
        if (r === null) expect(values[i]).toBeNaN();
        else expect(Math.abs(values[i] - r)).toBeLessThan(1e-9);
      });
    });
  }

  it('says why there is none where samples come too seldom', () => {
    const slow = everySeconds(60, [...listOf(100, (i) => 80 + (i % 7))]);
    const sampled = { signal: slow, intervalMs: 60_000 };
    const why = 'not resolvable at this sampling: every 60 s, needs 10 s or finer';
    expect(reactivityIn(sampled, sampled, PRX, wholeOf(slow))).toBe(why);
    expect(reactivityIn(sampled, sampled, MINUTE_INDEX, wholeOf(slow))).toMatchObject({ form: MINUTE_INDEX });
    const slower = { signal: slow, intervalMs: 120_000 };
    expect(reactivityIn(sampled, slower, MINUTE_INDEX, wholeOf(slow))).toBe(
      'not resolvable at this sampling: every 120 s, needs 60 s or finer',
    );
  });

  it('takes minute samples as they are', () => {
    const values = listOf(40, (i) => 80 + ((i * 7) % 11));
    const slow = everySeconds(60, [...values]);
    const { firstEnd, values: r } = course(slow, slow, MINUTE_INDEX, 60_000);
    // 39 bins lie inside from the first sample to the last; the first 10 of them make a window.
    expect(firstEnd).toBe(T0 + 60_000);
    expect(r).toHaveLength(39);
    expect([...r.subarray(0, 9)].every(Number.isNaN)).toBe(true);
    expect(r[9]).toBeCloseTo(1, 12);
  });

  it('begins in the window with what lies before it', () => {
    const { icp, map } = pair(2, 71);
    const whole = course(icp, map, PRX);
    const window = seconds(3600, 5400);
    const part = reactivityIn(
      { signal: icp, intervalMs: 1000 },
      { signal: map, intervalMs: 1000 },
      PRX,
      window,
    );
    if (typeof part === 'string') throw new Error(part);
    expect(part.course.firstEnd).toBe(window.start + 60_000);
    expect([...part.course.values]).toEqual([...whole.values.subarray(60, 90)]);
    expect(courseBehind(whole, window.start).firstEnd).toBe(window.start + 60_000);
    expect(courseBehind(whole, window.end + 1e9).values).toHaveLength(0);
  });
});

describe('figures of an index', () => {
  const values = [0.5, 0.25, 0.26, Number.NaN, -0.4];
  const of = { firstEnd: T0 + 60_000, values: Float64Array.from(values) };

  it('are mean, time over the limit and the share of the period', () => {
    const found = indexFigures(of, seconds(0, 600), [seconds(0, 120), seconds(120, 600)], 0.25);
    expect(found.mean).toBeCloseTo((0.5 + 0.25 + 0.26 - 0.4) / 4, 12);
    // The limit itself is not over it.
    expect(found.shareAboveLimit).toBe(0.5);
    expect(found.hoursAboveLimit).toBeCloseTo(2 / 60, 12);
    expect(found.computableHours).toBeCloseTo(4 / 60, 12);
    expect(found.computableShare).toBeCloseTo(0.4, 12);
    expect(found.hours.map(({ mean, computableMinutes }) => [mean, computableMinutes])).toEqual([
      [0.375, 2],
      [(0.26 - 0.4) / 2, 2],
    ]);
  });

  it('have no share where the index has no limit', () => {
    const found = indexFigures(of, seconds(0, 600), [], null);
    expect(found.mean).not.toBeNull();
    expect(found).toMatchObject({
      shareAboveLimit: null,
      shareAboveLimitReason: 'this index has no limit',
      hoursAboveLimit: null,
    });
  });

  it('say why there are none', () => {
    const none = { mean: null, shareAboveLimit: null, computableHours: 0, computableShare: 0 };
    expect(indexFigures('no MAP', seconds(0, 600), [seconds(0, 600)], 0.25)).toMatchObject({
      ...none,
      meanReason: 'no MAP',
      whyNone: 'no MAP',
    });
    const never = { ...of, values: of.values.map(() => Number.NaN) };
    expect(indexFigures(never, seconds(0, 600), [], 0.25).whyNone).toBe(
      'ICP and arterial pressure were not known together for long enough',
    );
  });
});
