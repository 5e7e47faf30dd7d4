import { describe, expect, it } from 'vitest';
import type { Cleaning } from '../../src/clean/clean.js';
import type { Mark } from '../../src/clean/rule.js';
import { isWithoutLevel, ownCppSentence } from '../../src/report/own-cpp-words.js';
import { clockTime } from '../../src/report/words.js';
import { levelSteps, MMHG_PER_CM } from '../../src/summarize/levelling.js';
import { type OwnCpp, ownCpp } from '../../src/summarize/own-cpp.js';
import { runPython } from '../support/python.js';
import { recordingOf } from '../support/recordings.js';
import { seconds } from '../support/shapes.js';
import { everySeconds } from '../support/signals.js';

const HOURS = 4;
const N = HOURS * 360 + 1;
const PERIOD = seconds(0, HOURS * 3600);
const NOTHING: Cleaning = { marks: [], rulesOn: [], stoodAside: [] };
const LEVELLED = levelSteps({ zeroedAt: 'heart', verticalCm: 15 });

const icp = Array.from({ length: N }, (_, i) => 12 + Math.sin(i / 40));
const map = Array.from({ length: N }, (_, i) => 85 + 4 * Math.sin(i / 90));
const cppOf = (shift: (i: number) => number): number[] => icp.map((x, i) => map[i] - x + shift(i));

/** A sample every 10 s; the monitor's CPP is shifted against MAP - ICP, and rounded as monitors do. */
const compared = (
  shift: (i: number) => number,
  { marks = [], steps = [] as typeof LEVELLED }: { marks?: Mark[]; steps?: typeof LEVELLED } = {},
): OwnCpp => {
  const [i, m, c] = [icp, map, cppOf(shift).map(Math.round)].map((values) => everySeconds(10, values));
  const found = ownCpp(recordingOf({ icp: i, map: m, cpp: c }), { ...NOTHING, marks }, steps, PERIOD);
  if (found === null) throw new Error('there is a CPP');
  return found;
};

const sentence = (own: OwnCpp, steps: typeof LEVELLED = []): string => {
  const local = (ms: number): string => new Date(ms).toISOString().replace('.000Z', '+00:00');
  const levels = own.levels.map((one) => ({ ...one, start: local(one.start), end: local(one.end) }));
  return ownCppSentence(own, levels, steps, clockTime);
};

describe("the export's own CPP", () => {
  it('agrees where it is MAP - ICP, rounded', () => {
    const own = compared(() => 0);
    expect(own.minutes).toBe(240);
    expect(Math.abs(own.limits!.mean)).toBeLessThan(0.1);
    expect(own.levels).toHaveLength(1);
    expect(sentence(own)).toMatch(
      /^The monitor's own CPP agrees with MAP minus ICP over the period: mean difference .* mmHg, limits of agreement .* to .* mmHg\.$/,
    );
  });
  it('lower throughout is told so: it may be levelled', () => {
    const own = compared(() => -12);
    expect(own.levels).toMatchObject([{ isSteady: true, ...PERIOD }]);
    expect(sentence(own)).toContain(
      "The monitor's own CPP is lower than MAP minus ICP by about 12 mmHg throughout: it may be levelled or use another source (mean difference −12.0 mmHg",
    );
  });
  it('agrees with ours where ours is levelled as it is', () => {
    const own = compared(() => -15 * MMHG_PER_CM, { steps: LEVELLED });
    expect(sentence(own, LEVELLED)).toContain('agrees with MAP at ear level minus ICP');
    const other = compared(() => -5, { steps: LEVELLED });
    expect(sentence(other, LEVELLED)).toContain(
      'is higher than MAP at ear level minus ICP by about 7 mmHg throughout: it may be levelled in another way, or not at all, or use another source',
    );
  });
  it('higher by just what MAP was taken down by is told so, level by level', () => {
    const plain = compared(() => 0, { steps: LEVELLED });
    expect(isWithoutLevel(plain, LEVELLED)).toBe(true);
    expect(sentence(plain, LEVELLED)).toMatch(
      /^The monitor's own CPP is higher than ours by just what MAP was taken down by \(12 mmHg\): the monitor does not level \(mean difference \+11\.\d mmHg/,
    );
    const angles: typeof LEVELLED = [
      { ...LEVELLED[0], end: PERIOD.start + 2 * 3_600_000 },
      { ...LEVELLED[0], start: PERIOD.start + 2 * 3_600_000, verticalCm: 9, correctionMmHg: 9 * MMHG_PER_CM },
    ];
    const turned = compared(() => 0, { steps: angles });
    expect(turned.levels).toHaveLength(2);
    expect(sentence(turned, angles)).toContain('(7 to 12 mmHg)');
    // One level that is another is enough to say what is said elsewhere.
    const moved = compared((i) => (i < 720 ? 0 : -5), { steps: LEVELLED });
    expect(moved.levels).toHaveLength(2);
    expect(isWithoutLevel(moved, LEVELLED)).toBe(false);
    expect(
      isWithoutLevel(
        compared(() => 0),
        [],
      ),
    ).toBe(false);
  });
  it('that goes to another level and stays there is told with the time', () => {
    const own = compared((i) => (i < 720 ? 0 : -10));
    expect(own.levels.map(({ differenceMmHg }) => Math.round(differenceMmHg) + 0)).toEqual([0, -10]);
    expect(sentence(own)).toContain(
      'it is about the same at first, about 10 mmHg lower from 20:00 on (mean difference',
    );
  });
  it('that differs now and then is not said to differ throughout', () => {
    const own = compared((i) => (Math.floor(i / 30) % 5 < 3 ? -9 : 9));
    expect(sentence(own)).toContain('in the middle, but not steadily');
  });
  it('is compared where neither ICP nor MAP was removed', () => {
    const mark: Mark = { channel: 'icp', rule: 'step', grade: 'removed', ...seconds(0, 7200) };
    expect(compared(() => 0, { marks: [mark] }).minutes).toBe(120);
    const suspect: Mark = { ...mark, grade: 'suspect', direction: 'down' };
    expect(compared(() => 0, { marks: [suspect] }).minutes).toBe(240);
  });
  it('cannot be compared with too little, and the reason is said', () => {
    const mark: Mark = { channel: 'map', rule: 'flatline', grade: 'removed', ...seconds(0, 13_000) };
    const own = compared(() => 0, { marks: [mark] });
    expect(own).toMatchObject({ limits: null, levels: [] });
    expect(sentence(own)).toBe(
      "The monitor's own CPP cannot be compared with MAP minus ICP: both are known together for 23 min, and 30 min are needed.",
    );
    const cpp = everySeconds(
      10,
      cppOf(() => 0),
    );
    expect(ownCpp(recordingOf({ icp: everySeconds(10, icp), cpp }), NOTHING, [], PERIOD)?.reason).toBe(
      'there is no MAP to compute CPP from',
    );
    const slow = everySeconds(
      120,
      cppOf(() => 0).filter((_, i) => i % 12 === 0),
    );
    const coarse = recordingOf({ icp: everySeconds(10, icp), map: everySeconds(10, map), cpp: slow });
    expect(ownCpp(coarse, NOTHING, [], PERIOD)?.reason).toBe(
      'not resolvable at this sampling: every 120 s, needs 60 s or finer',
    );
  });
  it('is none where the export holds none', () => {
    const plain = recordingOf({ icp: everySeconds(10, icp), map: everySeconds(10, map) });
    expect(ownCpp(plain, NOTHING, [], PERIOD)).toBeNull();
  });
});

// Outside source: numpy, mean and standard deviation (n - 1) of the 1-min means of linear pieces, to 1e-9 mmHg.
const NUMPY_LIMITS = `
import json, sys
import numpy as np
d = np.array(json.load(sys.stdin))
m = np.array([np.trapezoid(d[i:i + 7]) / 6 if hasattr(np, 'trapezoid') else np.trapz(d[i:i + 7]) / 6 for i in range(0, len(d) - 1, 6)])
print(json.dumps({'mean': float(m.mean()), 'sd': float(m.std(ddof=1))}))
`;

it('its limits of agreement are those of numpy', () => {
  const shift = (i: number): number => -4 + 3 * Math.sin(i / 11);
  const apart = cppOf(shift).map((c, i) => Math.round(c) - (map[i] - icp[i]));
  const outside = runPython<{ mean: number; sd: number }>(NUMPY_LIMITS, apart);
  const { limits } = compared(shift);
  expect(limits!.mean).toBeCloseTo(outside.mean, 9);
  expect(limits!.sd).toBeCloseTo(outside.sd, 9);
  expect(limits!.lower).toBeCloseTo(outside.mean - 1.96 * outside.sd, 9);
});
