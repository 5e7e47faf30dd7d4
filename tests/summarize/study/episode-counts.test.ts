import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withoutIntervals } from '../../../src/recording/signal.js';
import { findEpisodes } from '../../../src/segment/episodes.js';
import { stretchesPast } from '../../../src/segment/stretches.js';
import { type CountRule, episodeCounts } from '../../../src/summarize/study/episode-counts.js';
import {
  CPP_INTENSITIES_MMHG,
  DURATIONS_MINUTES,
  firstResolvable,
  ICP_INTENSITIES_MMHG,
} from '../../../src/summarize/study/intensity-grid.js';
import { noise } from '../../support/noise.js';
import { holds, intervals, signals } from '../../support/properties.js';
import { TRIANGLE } from '../../support/shapes.js';
import { everySeconds, through } from '../../support/signals.js';

const LEVELS = [5, 15, 20, 22, 22.5, 50, 60];
const MINUTES = [0.5, 1, 2, 5, 10, 20];
const ABOVE: CountRule = { side: 'above', dipSeconds: 30, bridgeSeconds: 120 };
const PLAIN: CountRule = { side: 'above', dipSeconds: 0, bridgeSeconds: 0 };

describe('episodes past each intensity that last at least each duration', () => {
  it('are as many as the rule of episodes finds with that threshold and that duration', () => {
    const cases = fc.record({
      signal: fc.oneof(signals(20_000), signals()),
      removed: fc.array(intervals(100_000), { maxLength: 3 }),
      side: fc.constantFrom('above' as const, 'below' as const),
      dipSeconds: fc.constantFrom(0, 10, 30, 90),
      bridgeSeconds: fc.constantFrom(0, 60, 120),
    });
    holds(
      fc.property(cases, ({ signal, removed, ...rule }) => {
        const given = withoutIntervals(signal, removed);
        const expected = LEVELS.flatMap((threshold) =>
          MINUTES.map(
            (minutes) =>
              findEpisodes(given, { ...rule, threshold, minSeconds: minutes * 60 }).episodes.length,
          ),
        );
        expect([...episodeCounts(given, LEVELS, MINUTES, rule)]).toEqual(expected);
      }),
    );
  });

  it('are as many as the rule finds in noise around the intensity, where chains are cut in pieces', () => {
    const next = noise(11);
    const given = everySeconds(
      5,
      Array.from({ length: 4000 }, (_, i) => 20 + 6 * Math.sin(i / 150) + 3 * next()),
    );
    const levels = [14, 17, 20, 22, 25];
    const expected = levels.flatMap((threshold) =>
      MINUTES.map(
        (minutes) => findEpisodes(given, { ...ABOVE, threshold, minSeconds: minutes * 60 }).episodes.length,
      ),
    );
    expect(Math.max(...expected)).toBeGreaterThan(10);
    expect([...episodeCounts(given, levels, MINUTES, ABOVE)]).toEqual(expected);
  });

  it('are maximal stretches where neither dips nor unknown stretches are allowed', () => {
    holds(
      fc.property(signals(), (signal) => {
        const expected = LEVELS.flatMap((level) => {
          const past = stretchesPast(signal, level, 'above').filter(({ state }) => state === 'past');
          return MINUTES.map((m) => past.filter(({ start, end }) => end - start >= m * 60_000 - 1).length);
        });
        expect([...episodeCounts(signal, LEVELS, MINUTES, PLAIN)]).toEqual(expected);
      }),
    );
  });

  it('follow the closed form of a triangle: (34 - u) x 2.5 min above u', () => {
    const counts = episodeCounts(TRIANGLE, ICP_INTENSITIES_MMHG, DURATIONS_MINUTES, ABOVE);
    ICP_INTENSITIES_MMHG.forEach((u, k) => {
      DURATIONS_MINUTES.forEach((minutes, d) => {
        const expected = u < 34 && (34 - u) * 2.5 >= minutes ? 1 : 0;
        expect(counts[k * DURATIONS_MINUTES.length + d]).toBe(expected);
      });
    });
  });

  it('end where nothing is known for longer than the rule bridges', () => {
    const signal = through([
      [0, 30],
      [600, 30],
      [900, 30],
      [1500, 30],
    ]);
    signal.known[1] = 0;
    expect([...episodeCounts(signal, [22], [5, 10, 11, 25], ABOVE)]).toEqual([2, 2, 0, 0]);
    const bridged = { ...ABOVE, bridgeSeconds: 300 };
    expect([...episodeCounts(signal, [22], [5, 10, 11, 25], bridged)]).toEqual([1, 1, 1, 1]);
  });

  it('never grow with the duration', () => {
    holds(
      fc.property(signals(), (signal) => {
        const counts = episodeCounts(signal, LEVELS, MINUTES, ABOVE);
        for (let i = 1; i < counts.length; i++) {
          if (i % MINUTES.length !== 0) expect(counts[i]).toBeLessThanOrEqual(counts[i - 1]);
        }
      }),
      100,
    );
  });
});

describe('the grid', () => {
  it('has 36 intensities of ICP, 41 of CPP and 40 durations, rising', () => {
    expect([ICP_INTENSITIES_MMHG[0], ICP_INTENSITIES_MMHG.at(-1), ICP_INTENSITIES_MMHG.length]).toEqual([
      10, 45, 36,
    ]);
    expect([CPP_INTENSITIES_MMHG[0], CPP_INTENSITIES_MMHG.at(-1), CPP_INTENSITIES_MMHG.length]).toEqual([
      40, 80, 41,
    ]);
    expect([DURATIONS_MINUTES[0], DURATIONS_MINUTES.at(-1), DURATIONS_MINUTES.length]).toEqual([1, 360, 40]);
    DURATIONS_MINUTES.slice(1).forEach((d, i) => {
      expect(d).toBeGreaterThan(DURATIONS_MINUTES[i]);
    });
  });
  it('begins, for a sampling, with durations of three samples or more', () => {
    expect(firstResolvable(1000, DURATIONS_MINUTES)).toBe(0);
    expect(DURATIONS_MINUTES[firstResolvable(60_000, DURATIONS_MINUTES)]).toBe(3);
    expect(firstResolvable(3_600_000 * 3, DURATIONS_MINUTES)).toBe(40);
  });
});
