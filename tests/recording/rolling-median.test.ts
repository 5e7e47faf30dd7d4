import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { median, rollingMedian } from '../../src/recording/rolling-median.js';
import { holds } from '../support/properties.js';
import { runPython } from '../support/python.js';

// Outside source: numpy.median, exact for these values (means of two tenths are the same sum in both).
const NUMPY_MEDIANS = `
import json, sys
import numpy as np
print(json.dumps([float(np.median(values)) for values in json.load(sys.stdin)]))
`;

const rolling = (list: number[], windowOf: (i: number) => readonly [number, number]): Float64Array =>
  rollingMedian(
    Float64Array.from(list),
    Uint32Array.from(list, (_, i) => windowOf(i)[0]),
    Uint32Array.from(list, (_, i) => windowOf(i)[1]),
  );

describe('median', () => {
  it('is that of numpy for odd and even counts, ties and negative values', () => {
    const lists = fc.sample(fc.array(fc.integer({ min: -300, max: 1500 }), { minLength: 1, maxLength: 40 }), {
      numRuns: 200,
      seed: 7,
    });
    expect(lists.map((values) => median(values))).toEqual(runPython<number[]>(NUMPY_MEDIANS, lists));
  });
  it('leaves the list in its order', () => {
    const values = [3, 1, 2];
    median(values);
    expect(values).toEqual([3, 1, 2]);
  });
});

describe('rolling median', () => {
  const values = fc.array(fc.integer({ min: -20, max: 20 }), { minLength: 1, maxLength: 60 });
  it('is the median of each window, and NaN where the window is empty', () => {
    holds(
      fc.property(values, fc.nat(12), fc.nat(12), (list, before, after) => {
        const windowOf = (i: number): [number, number] => [
          Math.max(0, i - before),
          Math.min(list.length, i + after),
        ];
        const expected = list.map((_, i) => {
          const inside = list.slice(...windowOf(i));
          return inside.length === 0 ? Number.NaN : median(inside);
        });
        expect([...rolling(list, windowOf)]).toEqual(expected);
      }),
    );
  });

  it('is that of numpy in windows of 700 samples, more than it first makes room for', () => {
    const list = Array.from({ length: 1500 }, (_, i) => ((i * 7919) % 1009) / 10);
    const windows = list.map((_, i) => list.slice(Math.max(0, i - 350), i + 350));
    const medians = rolling(list, (i) => [Math.max(0, i - 350), Math.min(list.length, i + 350)]);
    expect([...medians]).toEqual(runPython<number[]>(NUMPY_MEDIANS, windows));
  });

  it('is that of numpy where nearly all of many values differ', () => {
    const list = Array.from({ length: 6000 }, (_, i) => ((i * 7919) % 5987) / 8);
    const windows = list.map((_, i) => list.slice(Math.max(0, i - 40), i + 40));
    const medians = rolling(list, (i) => [Math.max(0, i - 40), Math.min(list.length, i + 40)]);
    expect([...medians]).toEqual(runPython<number[]>(NUMPY_MEDIANS, windows));
  });

  it('never looks at samples that fall into no window', () => {
    expect([...rolling([1, 2, 3, Number.NaN], (i) => [0, Math.min(3, i + 1)])]).toEqual([1, 1.5, 2, 2]);
  });
});
