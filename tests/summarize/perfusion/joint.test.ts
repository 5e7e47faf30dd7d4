import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { difference } from '../../../src/recording/difference.js';
import { withoutIntervals } from '../../../src/recording/signal.js';
import { jointHoursIn } from '../../../src/summarize/perfusion/joint.js';
import { hoursAbove, hoursBelow, monitoredHours } from '../../../src/summarize/time.js';
import { holds, intervals, signals } from '../../support/properties.js';
import { runPython } from '../../support/python.js';
import { seconds } from '../../support/shapes.js';
import { T0, through } from '../../support/signals.js';

const LIMITS = { icpAboveMmHg: 22, cppBelowMmHg: 60 };

describe('the joint burden of ICP and CPP', () => {
  it('is what a clock gives on two ramps', () => {
    // ICP goes from 12 to 32 in an hour and is over 22 from minute 30 on. MAP falls from 102 to 72, so CPP falls from 90
    // to 40 and is under 60 from minute 36 on.
    const icp = through([
      [0, 12],
      [3600, 32],
    ]);
    const map = through([
      [0, 102],
      [3600, 72],
    ]);
    const found = jointHoursIn(icp, difference(map, icp), seconds(0, 3600), LIMITS);
    expect(found.bothHours).toBeCloseTo(24 / 60, 9);
    expect(found.icpAloneHours).toBeCloseTo(6 / 60, 9);
    expect(found.cppAloneHours).toBeCloseTo(0, 9);
    expect(found.neitherHours).toBeCloseTo(30 / 60, 9);
  });

  it('tells low CPP from low MAP apart', () => {
    const icp = through([
      [0, 10],
      [1800, 10],
      [1801, 40],
      [3600, 40],
    ]);
    const map = through([
      [0, 65],
      [1800, 65],
      [1801, 110],
      [3600, 110],
    ]);
    const found = jointHoursIn(icp, difference(map, icp), seconds(0, 3600), LIMITS);
    // CPP 55 with ICP 10, then CPP 70 with ICP 40.
    expect(found.cppAloneHours).toBeCloseTo(0.5, 3);
    expect(found.icpAloneHours).toBeCloseTo(0.5, 3);
    expect(found.bothHours).toBeLessThan(0.001);
  });

  it('adds up to the hours of CPP, of ICP above and of CPP below, and over parts of the window', () => {
    const cases = fc.tuple(signals(), signals(), intervals(), fc.double({ min: 0, max: 1, noNaN: true }));
    holds(
      fc.property(cases, ([icp, arterial, window, at]) => {
        const map = { ...arterial, values: arterial.values.map((x) => 60 + x) };
        const cpp = difference(map, icp);
        const whole = jointHoursIn(icp, cpp, window, LIMITS);
        const { bothHours, icpAloneHours, cppAloneHours, neitherHours } = whole;
        for (const hours of Object.values(whole)) expect(hours).toBeGreaterThanOrEqual(-1e-9);
        expect(bothHours + icpAloneHours + cppAloneHours + neitherHours).toBeCloseTo(
          monitoredHours(cpp, window),
          9,
        );
        expect(bothHours + cppAloneHours).toBeCloseTo(hoursBelow(cpp, window, 60), 9);
        // ICP where CPP is known: its own signal with the knots of MAP, less what MAP does not cover.
        const zero = { ...map, values: map.values.map(() => 0) };
        const icpInCpp = difference(icp, zero);
        expect(bothHours + icpAloneHours).toBeCloseTo(hoursAbove(icpInCpp, window, 22), 9);
        const middle = Math.round(window.start + at * (window.end - window.start));
        const parts = [
          jointHoursIn(icp, cpp, { start: window.start, end: middle }, LIMITS),
          jointHoursIn(icp, cpp, { start: middle, end: window.end }, LIMITS),
        ];
        expect(parts[0].bothHours + parts[1].bothHours).toBeCloseTo(bothHours, 9);
        expect(parts[0].neitherHours + parts[1].neitherHours).toBeCloseTo(neitherHours, 9);
      }),
    );
  });

  // Outside source: numpy.interp of ICP and MAP on a grid of 0.1 s over the stretches that both know; each crossing moves
  // a step at most, so hours agree to a step for each of up to 90 pieces.
  it('is that of numpy on a fine grid', () => {
    const cases = fc.sample(fc.tuple(signals(20_000), signals(20_000)), { seed: 4, numRuns: 25 });
    const theirs = runPython<{ both: number; icp: number; cpp: number }[]>(
      `import json, sys
import numpy as np
out = []
for c in json.load(sys.stdin):
    both = icp = cpp = 0.0
    for a, b in c['known']:
        if b <= a: continue
        g = np.arange(a + 50, b, 100.0)
        i = np.interp(g, c['it'], c['iv']); m = np.interp(g, c['mt'], c['mv'])
        high, low = i > 22, m - i < 60
        both += (high & low).sum() * 0.1; icp += (high & ~low).sum() * 0.1; cpp += (~high & low).sum() * 0.1
    out.append(dict(both=float(both / 3600), icp=float(icp / 3600), cpp=float(cpp / 3600)))
print(json.dumps(out))`,
      cases.map(([icp, arterial]) => {
        const map = arterial.values.map((x) => 60 + x);
        const cpp = difference({ ...arterial, values: map }, icp);
        const known = [...cpp.known].flatMap((k, i) =>
          k ? [[cpp.times[i] - T0, cpp.times[i + 1] - T0]] : [],
        );
        return {
          it: [...icp.times].map((t) => t - T0),
          iv: [...icp.values],
          mt: [...arterial.times].map((t) => t - T0),
          mv: [...map],
          known,
        };
      }),
    );
    cases.forEach(([icp, arterial], i) => {
      const cpp = difference({ ...arterial, values: arterial.values.map((x) => 60 + x) }, icp);
      const window = { start: T0, end: T0 + 3_600_000 };
      const found = jointHoursIn(icp, cpp, window, LIMITS);
      const slack = (90 * 0.1 * 2) / 3600;
      expect(Math.abs(found.bothHours - theirs[i].both)).toBeLessThan(slack);
      expect(Math.abs(found.icpAloneHours - theirs[i].icp)).toBeLessThan(slack);
      expect(Math.abs(found.cppAloneHours - theirs[i].cpp)).toBeLessThan(slack);
    });
  });

  it('is nothing where MAP is missing', () => {
    const icp = through([
      [0, 30],
      [3600, 30],
    ]);
    const map = withoutIntervals(
      through([
        [0, 70],
        [1800, 70],
        [3600, 70],
      ]),
      [seconds(1800, 3600)],
    );
    const found = jointHoursIn(icp, difference(map, icp), seconds(0, 3600), LIMITS);
    expect(Object.values(found).reduce((a, b) => a + b)).toBe(0);
  });
});
