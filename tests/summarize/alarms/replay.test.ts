import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stretchesPast } from '../../../src/segment/stretches.js';
import { type AlarmSetting, caught, replay } from '../../../src/summarize/alarms/replay.js';
import { holds } from '../../support/properties.js';
import { everySeconds, T0, through } from '../../support/signals.js';

const at = (seconds: number): number => T0 + seconds * 1000;
const UPPER: AlarmSetting = { limit: 22, side: 'above', delaySeconds: 0, resetSeconds: 0 };

const replayed = (signal: ReturnType<typeof everySeconds>, setting: AlarmSetting): [number, number][] =>
  replay(stretchesPast(signal, setting.limit, setting.side), setting).map(({ onset, end }) => [
    (onset - T0) / 1000,
    (end - T0) / 1000,
  ]);

describe('a replayed alarm', () => {
  const wave = through([
    [0, 12],
    [100, 32],
    [160, 32],
    [260, 12],
    [300, 12],
    [400, 32],
    [420, 32],
    [520, 12],
    [600, 12],
  ]);

  it('is raised at the crossing, or after the delay, and ends where the signal is back', () => {
    expect(replayed(wave, UPPER)).toEqual([
      [50, 210],
      [350, 470],
    ]);
    expect(replayed(wave, { ...UPPER, delaySeconds: 120 })).toEqual([
      [170, 210],
      [470, 470],
    ]);
    expect(replayed(wave, { ...UPPER, delaySeconds: 121 })).toEqual([[171, 210]]);
    expect(replayed(wave, { ...UPPER, delaySeconds: 161 })).toEqual([]);
  });

  it('goes on where the signal was not back for long enough', () => {
    expect(replayed(wave, { ...UPPER, resetSeconds: 141 })).toEqual([[50, 470]]);
    expect(replayed(wave, { ...UPPER, resetSeconds: 140 })).toHaveLength(2);
  });

  it('is one of CPP below its limit', () => {
    const cpp = through([
      [0, 70],
      [100, 50],
      [200, 70],
    ]);
    expect(replayed(cpp, { limit: 60, side: 'below', delaySeconds: 30, resetSeconds: 0 })).toEqual([
      [80, 150],
    ]);
  });

  it('is ended by what is not known, and its delay begins anew', () => {
    const holed = everySeconds(
      1,
      Array.from({ length: 601 }, (_, s) => (s >= 200 && s < 260 ? Number.NaN : 30)),
    );
    expect(replayed(holed, { ...UPPER, delaySeconds: 100, resetSeconds: 60 })).toEqual([
      [100, 199],
      [360, 600],
    ]);
  });

  // Against a simulation that goes through the signal second by second; crossings lie on whole seconds, since values
  // step at them.
  it('is that of a monitor that looks every second', () => {
    const run = fc.record({
      seconds: fc.integer({ min: 1, max: 40 }),
      state: fc.constantFrom('past', 'within', 'unknown'),
    });
    const cases = fc.tuple(
      fc.array(run, { minLength: 1, maxLength: 30 }),
      fc.integer({ min: 0, max: 30 }),
      fc.integer({ min: 0, max: 30 }),
    );
    holds(
      fc.property(cases, ([runs, delaySeconds, resetSeconds]) => {
        const states = runs.flatMap(({ seconds, state }) => Array.from({ length: seconds }, () => state));
        const stretches = runs.reduce<{ state: 'past' | 'within' | 'unknown'; start: number; end: number }[]>(
          (all, { seconds, state }) => {
            const last = all.at(-1);
            const start = last?.end ?? T0;
            if (last?.state === state) last.end += seconds * 1000;
            else all.push({ state: state as 'past', start, end: start + seconds * 1000 });
            return all;
          },
          [],
        );
        const setting = { ...UPPER, delaySeconds, resetSeconds };
        const expected: [number, number][] = [];
        let [past, back, isOn] = [0, 0, false];
        states.forEach((state, second) => {
          if (state === 'past') {
            past++;
            back = 0;
            if (isOn) expected[expected.length - 1][1] = second + 1;
            else if (past >= delaySeconds) {
              expected.push([second + 1 - (past - delaySeconds), second + 1]);
              isOn = true;
            }
          } else {
            past = 0;
            back = state === 'within' ? back + 1 : 0;
            if (state === 'unknown' || back >= resetSeconds) isOn = false;
          }
        });
        expect(
          replay(stretches, setting).map(({ onset, end }) => [(onset - T0) / 1000, (end - T0) / 1000]),
        ).toEqual(expected);
      }),
    );
  });

  it('never comes more often with a longer delay or a higher limit of the same stretches', () => {
    const values = fc.array(fc.integer({ min: 100, max: 350 }), { minLength: 2, maxLength: 300 });
    holds(
      fc.property(values, fc.integer({ min: 0, max: 20 }), (tenths, delaySeconds) => {
        const stretches = stretchesPast(
          everySeconds(
            1,
            tenths.map((x) => x / 10),
          ),
          22,
          'above',
        );
        const shorter = replay(stretches, { ...UPPER, delaySeconds });
        const longer = replay(stretches, { ...UPPER, delaySeconds: delaySeconds + 1 });
        expect(longer.length).toBeLessThanOrEqual(shorter.length);
        for (const { end } of longer) expect(shorter.some((one) => one.end === end)).toBe(true);
      }),
    );
  });
});

describe('what a setting would have caught', () => {
  const episodes = [
    { start: at(100), end: at(500) },
    { start: at(800), end: at(1200) },
    { start: at(2000), end: at(2400) },
  ];

  it('is an episode in which an alarm was on, from the time at which it was', () => {
    const alarms = [
      { onset: at(20), end: at(60) },
      { onset: at(160), end: at(300) },
      { onset: at(350), end: at(400) },
      { onset: at(790), end: at(900) },
      { onset: at(1500), end: at(1600) },
    ];
    expect(caught(alarms, episodes)).toEqual({
      noticed: [at(160), at(800), null],
      isSustained: [false, true, true, true, false],
    });
  });

  it('may be two episodes of one alarm', () => {
    expect(caught([{ onset: at(150), end: at(1000) }], episodes)).toEqual({
      noticed: [at(150), at(800), null],
      isSustained: [true],
    });
  });
});
