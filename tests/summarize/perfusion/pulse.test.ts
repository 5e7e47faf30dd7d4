import { describe, expect, it } from 'vitest';
import { wholeOf } from '../../../src/recording/pieces.js';
import { withoutIntervals } from '../../../src/recording/signal.js';
import { pulseFigures } from '../../../src/summarize/perfusion/pulse.js';
import { listOf, wandering } from '../../support/noise.js';
import { runPython } from '../../support/python.js';
import { channelOf } from '../../support/recordings.js';
import { everySeconds, T0 } from '../../support/signals.js';

describe('RAP', () => {
  // Outside source: numpy.corrcoef of the 40 amplitudes and the means of ICP over the same 10 s, to 1e-9.
  it('is that of numpy over 40 windows of 10 s', () => {
    const count = 400;
    const [a, b] = [wandering(81, 0.95), wandering(82, 0.9)];
    const level = listOf(count, () => 15 + 4 * a());
    const amplitude = listOf(count, (i) => 2 + 0.1 * (level[i] - 15) + 0.2 * b());
    // A value stands at the middle of its 10 s; ICP is level within them.
    const pulse = channelOf('icpPulse', everySeconds(10, [...amplitude], T0 + 5000));
    const icp = everySeconds(
      1,
      Array.from({ length: 10 * count }, (_, s) => level[Math.floor(s / 10)]),
      T0 + 500,
    );
    const found = pulseFigures(pulse, { signal: icp, intervalMs: 1000 }, wholeOf(icp));
    // ICP between two levels is a line of a second, half of it on either side of the border.
    const means = Array.from({ length: count }, (_, k) => {
      const [before, own, behind] = [level[k - 1] ?? level[k], level[k], level[k + 1] ?? level[k]];
      const half = (other: number): number => (0.5 * ((own + other) / 2 + own)) / 2;
      return (half(before) + 9 * own + half(behind)) / 10;
    });
    const theirs = runPython<number[]>(
      `import json, sys
import numpy as np
q = json.load(sys.stdin)
a, m = np.array(q['a']), np.array(q['m'])
print(json.dumps([float(np.corrcoef(a[max(0, e - 40):e], m[max(0, e - 40):e])[0, 1]) for e in range(24, len(a) - 1, 6)]))`,
      { a: [...amplitude], m: means },
    );
    const ours = [...found.rap.values].filter((r) => !Number.isNaN(r));
    expect(ours.length).toBeGreaterThan(60);
    // The first window holds the first bin, of which ICP is known but for half a second.
    ours.slice(4, -1).forEach((r, i) => {
      expect(Math.abs(r - theirs[i + 4])).toBeLessThan(1e-9);
    });
    expect(found.meanRap).toBeCloseTo(ours.reduce((x, y) => x + y) / ours.length, 12);
    expect(found.meanAmplitudeMmHg).toBeCloseTo(amplitude.reduce((x, y) => x + y) / count, 1);
  });

  it('leaves out the pulse of what was removed of ICP', () => {
    const icp = everySeconds(1, [...listOf(1201, () => 12)]);
    const cleaned = withoutIntervals(icp, [{ start: T0 + 600_000, end: T0 + 1_200_000 }]);
    const pulse = channelOf(
      'icpPulse',
      everySeconds(10, [...listOf(120, (k) => (k < 60 ? 2 : 9))], T0 + 5000),
    );
    const found = pulseFigures(pulse, { signal: cleaned, intervalMs: 1000 }, wholeOf(icp));
    expect(found.meanAmplitudeMmHg).toBeCloseTo(2, 12);
    expect(found.knownHours).toBeCloseTo(600 / 3600, 12);
  });

  it('is unknown where there is no pulse', () => {
    const icp = everySeconds(1, [...listOf(1000, () => 12)]);
    const none = channelOf('icpPulse', everySeconds(10, []));
    expect(pulseFigures(none, { signal: icp, intervalMs: 1000 }, wholeOf(icp))).toMatchObject({
      meanAmplitudeMmHg: null,
      meanAmplitudeMmHgReason: 'no pulse was found in this time',
      meanRap: null,
      meanRapReason: 'ICP and its pulse were not known together for long enough',
    });
  });
});
