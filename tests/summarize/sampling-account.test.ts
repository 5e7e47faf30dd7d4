import { describe, expect, it } from 'vitest';
import { samplingAccount } from '../../src/summarize/sampling-account.js';

/** Times that run on in steps: [count, step in ms] each. */
function timesOf(...runs: [count: number, stepMs: number][]): Float64Array {
  const times = [0];
  for (const [count, step] of runs) for (let i = 0; i < count; i++) times.push((times.at(-1) ?? 0) + step);
  return Float64Array.from(times);
}

describe('the account of a sampling', () => {
  it('is one rate where samples come evenly', () => {
    expect(samplingAccount(timesOf([100, 1000]))).toEqual({
      stretches: [{ start: 0, end: 100_000, intervalMs: 1000 }],
      gaps: [],
      unevenShare: 0,
    });
  });

  it('tells the stretches of a recording whose rate changes', () => {
    const { stretches, gaps } = samplingAccount(timesOf([300, 1000], [100, 60_000], [300, 1000]));
    expect(stretches.map(({ intervalMs }) => intervalMs)).toEqual([1000, 60_000, 1000]);
    expect(stretches[0].start).toBe(0);
    expect(stretches.at(-1)?.end).toBe(300_000 + 6_000_000 + 300_000);
    expect(gaps.length).toBeLessThanOrEqual(1);
  });

  it('tells gaps from the rate that they stand in', () => {
    const { stretches, gaps } = samplingAccount(timesOf([100, 1000], [1, 240_000], [100, 1000]));
    expect(stretches).toHaveLength(1);
    expect(gaps).toEqual([{ start: 100_000, end: 340_000 }]);
  });

  it('tells how many spacings are uneven', () => {
    const times = timesOf(...Array.from({ length: 50 }, (): [number, number] => [2, 1000]));
    for (let i = 10; i < times.length; i += 10) times[i] += 300;
    expect(samplingAccount(times).unevenShare).toBeCloseTo(0.19, 2);
  });

  it('is empty under two samples', () => {
    expect(samplingAccount(Float64Array.of(5))).toEqual({ stretches: [], gaps: [], unevenShare: 0 });
  });
});
