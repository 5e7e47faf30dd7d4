import { expect, test } from 'vitest';
import { autocorrelation, crossCorrelations } from '../../../src/summarize/lag/cross-correlation.js';
import { slowFluctuations } from '../../../src/summarize/lag/slow-fluctuations.js';
import { gridIn } from '../../../src/summarize/perfusion/bin-grid.js';
import { binMeans } from '../../../src/summarize/perfusion/bin-means.js';
import { runPython } from '../../support/python.js';
import { everySeconds, T0 } from '../../support/signals.js';
import { bells, remembering } from '../../support/slow-waves.js';

// Outside source: numpy. Means of linear pieces by a fine grid, a moving mean by slices, correlations by dot products
// over the pairs that are known in both; to 1e-9, and bins to 1e-6 for the grid.
const NUMPY = `
import json, sys
import numpy as np
d = json.load(sys.stdin)
nan = lambda v: np.array([np.nan if x is None else x for x in v], dtype=float)
a, b = nan(d['a']), nan(d['b'])
def fast(x, half):
    out = np.full(len(x), np.nan)
    for i in range(len(x)):
        part = x[max(0, i - half):i + half + 1]
        if np.isfinite(part).sum() > half and np.isfinite(x[i]):
            out[i] = x[i] - np.nanmean(part)
    most = 3 * 1.4826 * np.nanmedian(np.abs(out))
    return np.clip(out, -most, most)
fa, fb = fast(a, 4), fast(b, 4)
def r(lag):
    i = np.arange(len(fa)); i = i[(i + lag >= 0) & (i + lag < len(fb))]
    x, y = fa[i], fb[i + lag]
    ok = np.isfinite(x) & np.isfinite(y)
    return float((x[ok] * y[ok]).sum() / np.sqrt((x[ok] ** 2).sum() * (y[ok] ** 2).sum()))
t = (np.arange(600 * 100) + 0.5) / 100
x = np.interp(t, np.array(d['times']), np.array(d['values']))
print(json.dumps({'fast': [None if np.isnan(v) else v for v in fa], 'r': [r(k) for k in range(-6, 7)],
                  'own': [float((lambda u, v: (u * v).sum() / np.sqrt((u ** 2).sum() * (v ** 2).sum()))(*[w[np.isfinite(fa[:len(fa) - k]) & np.isfinite(fa[k:])] for w in (fa[:len(fa) - k], fa[k:])])) for k in range(4)],
                  'bins': x.reshape(-1, 1000).mean(axis=1).tolist()}))
`;

test('bins, fluctuations and correlations are those of numpy', () => {
  const bell = bells(3);
  const holed = (): Float64Array =>
    remembering(200, 4, bell).map((x, i) => ((i * 7) % 31 < 3 ? Number.NaN : x + (i === 50 ? 20 : 0)));
  const [a, b] = [holed(), holed()];
  const plain = (x: Float64Array): (number | null)[] => Array.from(x, (v) => (Number.isNaN(v) ? null : v));
  const values = Array.from({ length: 87 }, () => bell());
  const outside = runPython<{ fast: (number | null)[]; r: number[]; own: number[]; bins: number[] }>(NUMPY, {
    a: plain(a),
    b: plain(b),
    times: values.map((_, i) => i * 7),
    values,
  });
  const [fastA, fastB] = [slowFluctuations(a, 4)!, slowFluctuations(b, 4)!];
  const close = (x: number | null): unknown => (x === null ? null : expect.closeTo(x, 9));
  expect(plain(fastA)).toEqual(outside.fast.map(close));
  const { whole } = crossCorrelations(fastA, fastB, 6, 90);
  expect([...whole.r]).toEqual(outside.r.map(close));
  expect([...autocorrelation(fastA, 3)]).toEqual(outside.own.map(close));
  // T0 is a whole minute, so bins begin with the signal.
  const signal = { ...everySeconds(7, values), known: new Uint8Array(87).fill(1, 0, 86) };
  const bins = binMeans(signal, 7000, gridIn({ start: T0, end: T0 + 600_000 }, 10_000));
  expect([...bins]).toEqual(outside.bins.map((x) => expect.closeTo(x, 4)));
});

test('a bin that is known for less than half is unknown', () => {
  const signal = everySeconds(1, [
    1,
    1,
    1,
    1,
    1,
    Number.NaN,
    Number.NaN,
    Number.NaN,
    3,
    3,
    3,
    3,
    3,
    3,
    3,
    3,
    3,
    3,
  ]);
  // maxGap is 3 s, so the hole of 4 s is unknown; the first bin is known for 6 s, the second for 7.
  expect([...binMeans(signal, 1000, gridIn({ start: T0, end: T0 + 20_000 }, 10_000))]).toEqual([
    expect.closeTo((4 * 1 + 2 * 3) / 6, 9),
    3,
  ]);
  expect([
    ...binMeans(everySeconds(1, [1, 1, 1, 1]), 1000, gridIn({ start: T0, end: T0 + 10_000 }, 10_000)),
  ]).toEqual([Number.NaN]);
});

test('the parts before and behind the split hold all pairs of the whole', () => {
  const bell = bells(4);
  const [a, b] = [remembering(100, 3, bell), remembering(100, 3, bell)];
  const { whole, parts } = crossCorrelations(a, b, 5, 37);
  expect([...whole.pairs]).toEqual([...parts[0].pairs].map((n, i) => n + parts[1].pairs[i]));
  expect(whole.pairs[5]).toBe(100);
});
