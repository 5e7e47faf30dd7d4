import { describe, expect, it } from 'vitest';
import { maxGapMs, nominalIntervalMs, signalOf } from '../../src/recording/sampling.js';

/** Times in milliseconds, a sample after each of the spacings in seconds. */
function timesBySpacings(...seconds: number[]): Float64Array {
  const times = [0];
  for (const spacing of seconds) times.push(times[times.length - 1] + spacing * 1000);
  return Float64Array.from(times);
}
const repeated = (count: number, seconds: number): number[] => Array(count).fill(seconds);
/** For each spacing whether the piece over it is known. */
const knownOver = (...seconds: number[]): number[] => {
  const times = timesBySpacings(...seconds);
  const { known } = signalOf(times, new Float64Array(times.length));
  expect(known.length).toBe(times.length);
  expect(known[known.length - 1]).toBe(0);
  return [...known.slice(0, -1)];
};

describe('the longest gap over which x is known', () => {
  it('is three nominal intervals', () => {
    expect(maxGapMs(5_000)).toBe(15_000);
    expect(maxGapMs(60_000)).toBe(180_000);
  });
  it('is 2 s at least, whatever the rate', () => {
    expect(maxGapMs(100)).toBe(2_000);
  });
  it('is 15 min at most, whatever the rate', () => {
    expect(maxGapMs(600_000)).toBe(900_000);
  });
});

describe('the nominal interval', () => {
  it('is the median spacing, so that gaps do not change it', () => {
    expect(nominalIntervalMs(timesBySpacings(1, 1, 3600, 1, 1))).toBe(1000);
  });
  it('is not known under two samples', () => {
    expect(nominalIntervalMs(timesBySpacings())).toBeNaN();
    expect(nominalIntervalMs(new Float64Array(0))).toBeNaN();
  });
});

describe('the signal of samples as they came', () => {
  it('is known over gaps of exactly three intervals and not over longer ones', () => {
    expect(knownOver(1, 1, 3, 1, 3.001, 1)).toEqual([1, 1, 1, 1, 0, 1]);
  });
  it('is known over 2 s at any rate, and not over more where samples come faster', () => {
    expect(knownOver(...repeated(20, 0.2), 2, 0.2, 2.001, 0.2)).toEqual([...repeated(20, 1), 1, 1, 0, 1]);
  });
  it('is known over 15 min where samples come every 10 min, and not over more', () => {
    expect(knownOver(600, 600, 900, 600, 901, 600)).toEqual([1, 1, 1, 1, 0, 1]);
  });
  it('keeps isolated gaps of many intervals open', () => {
    expect(knownOver(...repeated(30, 1), 60, ...repeated(30, 1), 60, ...repeated(30, 1))).toEqual([
      ...repeated(30, 1),
      0,
      ...repeated(30, 1),
      0,
      ...repeated(30, 1),
    ]);
  });
  it('keeps ten lone samples in a row apart: that is loss, not a slower rate', () => {
    const known = knownOver(...repeated(60, 1), ...repeated(10, 60), ...repeated(60, 1));
    expect(known.slice(60, 70)).toEqual(repeated(10, 0));
  });
  it('follows the rate from 1 s to 60 s and back, with every piece known', () => {
    const known = knownOver(...repeated(120, 1), ...repeated(40, 60), ...repeated(120, 1));
    expect(known).toEqual(repeated(280, 1));
  });
  it('judges a gap by the rate of the stretch in which it stands', () => {
    const spacings = [
      ...repeated(60, 1),
      100,
      ...repeated(60, 1),
      ...repeated(20, 60),
      100,
      ...repeated(20, 60),
      200,
      ...repeated(20, 60),
      ...repeated(60, 1),
      4,
      ...repeated(60, 1),
    ];
    const unknown = knownOver(...spacings).flatMap((isKnown, i) => (isKnown ? [] : [spacings[i]]));
    expect(unknown).toEqual([100, 200, 4]);
  });
  it('of no or one sample is known nowhere', () => {
    expect([...signalOf(new Float64Array(0), new Float64Array(0)).known]).toEqual([]);
    expect([...signalOf(timesBySpacings(), Float64Array.of(12)).known]).toEqual([0]);
  });
});
