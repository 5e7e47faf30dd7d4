import { describe, expect, it } from 'vitest';
import { type ClockLag, clockLag } from '../../../src/summarize/lag/clock-lag.js';
import { everySeconds, T0 } from '../../support/signals.js';
import { bells, invented, remembering } from '../../support/slow-waves.js';

const lagOf = (icp: ArrayLike<number>, map: ArrayLike<number>, intervalSeconds = 1): ClockLag => {
  const seconds = (Math.max(icp.length, map.length) - 1) * intervalSeconds;
  return clockLag(
    { signal: everySeconds(intervalSeconds, Array.from(icp)), intervalMs: intervalSeconds * 1000 },
    { signal: everySeconds(intervalSeconds, Array.from(map)), intervalMs: intervalSeconds * 1000 },
    { start: T0, end: T0 + seconds * 1000 },
  );
};
const NOT_CLEAR = 'the slow fluctuations of ICP and MAP go together at no lag more clearly than at others';

/** Every tenth sample. */
const coarser = (values: Float64Array): Float64Array => values.filter((_, i) => i % 10 === 0);

describe('the lag of MAP behind ICP', () => {
  it.each([0, 15, 40, -40, 200, -333, 560])('of %i s is found, to 5 s', (mapLate) => {
    for (const seed of [1, 2, 3]) {
      const { icp, map } = invented(seed, 6, 0.7, mapLate);
      const { lagSeconds, isApart, reason, correlation } = lagOf(icp, map);
      expect(reason).toBeNull();
      expect(Math.abs(lagSeconds! - mapLate)).toBeLessThan(5);
      expect(isApart).toBe(Math.abs(mapLate) > 30);
      expect(correlation).toBeGreaterThan(0.2);
    }
  });
  it('is found where ICP falls as MAP rises, and at a sample every 10 s', () => {
    const { icp, map } = invented(4, 8, 0.7, 90);
    const { lagSeconds, correlation } = lagOf(coarser(icp.map((x) => 24 - x)), coarser(map), 10);
    expect(Math.abs(lagSeconds! - 90)).toBeLessThan(5);
    expect(correlation).toBeLessThan(-0.2);
  });
  it('is found though a single event of each stands far apart in time', () => {
    const { icp, map } = invented(5, 6, 0.7, 40);
    icp.fill(60, 9000, 9060);
    map.fill(200, 9300, 9360);
    expect(Math.abs(lagOf(icp, map).lagSeconds! - 40)).toBeLessThan(5);
  });
  it('is none where only such events go together', () => {
    const { icp, map } = invented(6, 6, 0);
    icp.fill(60, 9000, 9060);
    map.fill(200, 9300, 9360);
    expect(lagOf(icp, map)).toEqual({
      lagSeconds: null,
      correlation: null,
      reason: NOT_CLEAR,
      isApart: false,
    });
  });
  it('is none beyond 10 min', () => {
    const { icp, map } = invented(7, 6, 0.8, 900);
    expect(lagOf(icp, map).reason).toBe(NOT_CLEAR);
  });
  it('is none where it changes in the middle of the time', () => {
    const [early, late] = [invented(8, 6, 0.8, 60), invented(8, 6, 0.8, 200)];
    const map = early.map.map((x, i) => (i < 10_800 ? x : late.map[i]));
    expect(lagOf(early.icp, map).reason).toBe(NOT_CLEAR);
  });
  it.each([25, 60, 150])('is none of waves that repeat themselves every %i s', (every) => {
    const wave = (i: number): number => Math.sin((2 * Math.PI * i) / every);
    const bell = bells(9);
    const n = 6 * 3600 + 1;
    const icp = Float64Array.from({ length: n }, (_, i) => 12 + wave(i + 70) + 0.3 * bell());
    const map = Float64Array.from({ length: n }, (_, i) => 85 + 3 * wave(i) + bell());
    expect(lagOf(icp, map).reason).toBe(NOT_CLEAR);
  });
});

describe('unrelated series', () => {
  it('give no lag: none of 200 nights', () => {
    const found = Array.from({ length: 200 }, (_, seed) => {
      const { icp, map } = invented(100 + seed, 3, 0);
      return lagOf(coarser(icp), coarser(map), 10).lagSeconds;
    });
    expect(found.filter((lag) => lag !== null)).toEqual([]);
  });
  it('give none where they remember for longer either', () => {
    const found = Array.from({ length: 100 }, (_, seed) => {
      const bell = bells(1000 + seed);
      const [icp, map] = [remembering(2161, 6, bell), remembering(2161, 9, bell)];
      return lagOf(icp, map, 10).lagSeconds;
    });
    expect(found.filter((lag) => lag !== null)).toEqual([]);
  });
});

describe('what cannot be told', () => {
  const { icp, map } = invented(10, 6, 0.8, 40);
  it('is unknown where there is no MAP, or for less than 2 h', () => {
    expect(lagOf(icp, [])).toMatchObject({ lagSeconds: null, reason: 'there is no MAP' });
    const short = map.map((x, i) => (i < 6600 ? x : Number.NaN));
    expect(lagOf(icp, short)).toMatchObject({
      lagSeconds: null,
      reason: 'ICP and MAP are known together for 110 min, and 120 min are needed',
    });
  });
  it('is told from the rest where MAP is missing for 2 h', () => {
    const holed = map.map((x, i) => (i > 7000 && i < 14_200 ? Number.NaN : x));
    expect(Math.abs(lagOf(icp, holed).lagSeconds! - 40)).toBeLessThan(5);
  });
  it('is unknown of a constant channel, never 0', () => {
    const flat = new Float64Array(icp.length).fill(85);
    expect(lagOf(icp, flat)).toMatchObject({ lagSeconds: null, reason: 'MAP hardly varies in this time' });
    expect(lagOf(flat, map)).toMatchObject({ lagSeconds: null, reason: 'ICP hardly varies in this time' });
    const once = flat.map((x, i) => (i === 9000 ? x + 40 : x));
    expect(lagOf(icp, once).reason).toBe('MAP hardly varies in this time');
  });
  it('is unknown at a sample a minute', () => {
    const minutes = (values: Float64Array): Float64Array => values.filter((_, i) => i % 60 === 0);
    expect(lagOf(minutes(icp), minutes(map), 60).reason).toBe(
      'not resolvable at this sampling: every 60 s, needs 10 s or finer',
    );
  });
});
