import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Interval } from '../../../src/recording/interval.js';
import { type Signal, withoutIntervals } from '../../../src/recording/signal.js';
import { stretchesPast } from '../../../src/segment/stretches.js';
import { doseFrom } from '../../../src/summarize/alarms/dose-from.js';
import { caught, replay } from '../../../src/summarize/alarms/replay.js';
import { replayGrid } from '../../../src/summarize/alarms/replay-all.js';
import type { TriedSettings } from '../../../src/summarize/alarms/replay-grid.js';
import { doseAboveMmHgHours } from '../../../src/summarize/dose.js';
import { holds, intervals, signals } from '../../support/properties.js';
import { everySeconds, T0, through } from '../../support/signals.js';

const LIMITS = [5, 15, 20, 21.9, 22, 22.1, 30, 70];

const apart = (list: readonly Interval[]): Interval[] => {
  const sorted = [...list].filter(({ start, end }) => end > start).sort((a, b) => a.start - b.start);
  const found: Interval[] = [];
  for (const one of sorted) if (one.start >= (found.at(-1)?.end ?? 0)) found.push(one);
  return found;
};

/** What `replay` and `caught` say, cell by cell. */
function cellByCell(reading: Signal, cleaned: Signal, episodes: readonly Interval[], tried: TriedSettings) {
  const alarms: number[] = [];
  const sustained: number[] = [];
  const minutes: number[] = [];
  const doses: number[] = [];
  for (const limit of tried.limitsMmHg) {
    const stretches = stretchesPast(reading, limit, 'above');
    for (const delaySeconds of tried.delaysSeconds) {
      const setting = { limit, side: 'above', delaySeconds, resetSeconds: tried.resetSeconds } as const;
      const raised = replay(stretches, setting);
      const { noticed, isSustained } = caught(raised, episodes);
      alarms.push(raised.length);
      sustained.push(isSustained.filter(Boolean).length);
      noticed.forEach((at, i) => {
        const { start } = episodes[i];
        minutes.push(at === null ? Number.NaN : (at - start) / 60_000);
        doses.push(
          at === null ? Number.NaN : doseAboveMmHgHours(cleaned, { start, end: Math.max(start, at) }, 22),
        );
      });
    }
  }
  return { alarms, sustained, minutes, doses };
}

/** One assertion for all, since each costs more than the replay. */
const expectClose = (found: Float64Array, expected: readonly number[]): void => {
  const isClose = (value: number, i: number): boolean =>
    Number.isNaN(value)
      ? Number.isNaN(found[i])
      : Math.abs(found[i] - value) < 1e-9 * Math.max(1, Math.abs(value));
  const apart = expected.flatMap((value, i) => (isClose(value, i) ? [] : [[i, found[i], value]]));
  expect([found.length, ...apart]).toEqual([expected.length]);
};

describe('a replay of all settings', () => {
  it('is that of each setting alone, on any signal, also where it touches or follows a limit', () => {
    const cases = fc.record({
      signal: signals(60_000),
      removed: fc.array(intervals(200_000), { maxLength: 3 }),
      episodes: fc.array(intervals(900_000), { maxLength: 4 }).map(apart),
      delaysSeconds: fc.uniqueArray(fc.integer({ min: 0, max: 400 }), { minLength: 1, maxLength: 5 }),
      resetSeconds: fc.constantFrom(0, 0, 10, 60, 300),
    });
    holds(
      fc.property(cases, ({ signal, removed, episodes, delaysSeconds, resetSeconds }) => {
        const tried: TriedSettings = {
          limitsMmHg: LIMITS,
          delaysSeconds: delaysSeconds.sort((a, b) => a - b),
          resetSeconds,
        };
        const cleaned = withoutIntervals(signal, removed);
        const grid = replayGrid(signal, cleaned, episodes, 22, tried);
        for (const [found, reading] of [
          [grid.raw, signal],
          [grid.cleaned, cleaned],
        ] as const) {
          const expected = cellByCell(reading, cleaned, episodes, tried);
          expect([...found.alarms]).toEqual(expected.alarms);
          expect([...found.sustained]).toEqual(expected.sustained);
          expectClose(found.noticedMinutes, expected.minutes);
          expectClose(found.doseMmHgHours, expected.doses);
        }
      }),
      400,
    );
  });

  // Values lie 0.5 to both sides of the limit, so that crossings stand on half seconds: a simulation that goes through
  // the signal by half seconds needs no crossings.
  it('is that of a monitor that looks every half second', () => {
    const run = fc.record({
      seconds: fc.integer({ min: 1, max: 30 }),
      value: fc.constantFrom(20, 21, 21),
      isKnown: fc.integer({ min: 0, max: 5 }).map((n) => n > 0),
    });
    const cases = fc.record({
      runs: fc.array(run, { minLength: 1, maxLength: 25 }),
      delaySeconds: fc.integer({ min: 0, max: 30 }),
      resetSeconds: fc.integer({ min: 0, max: 15 }),
      from: fc.integer({ min: 0, max: 200 }),
      length: fc.integer({ min: 1, max: 200 }),
    });
    holds(
      fc.property(cases, ({ runs, delaySeconds, resetSeconds, from, length }) => {
        const seconds = runs.flatMap((one) => Array.from({ length: one.seconds }, () => one));
        const signal: Signal = {
          times: Float64Array.from(seconds, (_, s) => T0 + s * 1000),
          values: Float64Array.from(seconds, ({ value }) => value),
          known: Uint8Array.from(seconds, ({ isKnown }, s) => (isKnown && s + 1 < seconds.length ? 1 : 0)),
        };
        const alarms: { from: number; to: number }[] = [];
        let [past, back, isOn] = [0, 0, false];
        for (let half = 0; half < 2 * seconds.length; half++) {
          const second = half >> 1;
          if (signal.known[second] === 0) {
            [past, back, isOn] = [0, 0, false];
          } else if (signal.values[second + (half % 2)] > 20.5) {
            [past, back] = [past + 1, 0];
            if (isOn) alarms[alarms.length - 1].to = half + 1;
            else if (past >= 2 * delaySeconds) {
              alarms.push({ from: half + 1 - (past - 2 * delaySeconds), to: half + 1 });
              isOn = true;
            }
          } else {
            [past, back] = [0, back + 1];
            if (back >= 2 * resetSeconds) isOn = false;
          }
        }
        const inEpisode = alarms.filter((one) => one.to > 2 * from && one.from < 2 * (from + length));
        const episode = { start: T0 + from * 1000, end: T0 + (from + length) * 1000 };
        const tried = { limitsMmHg: [20.5], delaysSeconds: [delaySeconds], resetSeconds };
        const { raw } = replayGrid(signal, signal, [episode], 22, tried);
        expect([raw.alarms[0], raw.sustained[0]]).toEqual([alarms.length, inEpisode.length]);
        const notice = inEpisode.length === 0 ? Number.NaN : Math.max(0, inEpisode[0].from / 2 - from) / 60;
        expectClose(raw.noticedMinutes, [notice]);
      }),
    );
  });

  it('raises once where the signal only touches the limit from above', () => {
    const touch = through([
      [0, 30],
      [60, 22],
      [120, 30],
    ]);
    const grid = replayGrid(touch, touch, [], 22, {
      limitsMmHg: [22],
      delaysSeconds: [0, 100, 121],
      resetSeconds: 0,
    });
    expect([...grid.raw.alarms]).toEqual([1, 1, 0]);
  });

  it('raises nothing where the signal is past the limit for no time that can be told', () => {
    const barely = through([
      [0, 12],
      [60, 22 + 1e-14],
      [120, 12],
    ]);
    const { raw } = replayGrid(barely, barely, [], 22, {
      limitsMmHg: [22],
      delaysSeconds: [0],
      resetSeconds: 0,
    });
    expect(barely.values[1]).toBeGreaterThan(22);
    expect([...raw.alarms]).toEqual([
      replay(stretchesPast(barely, 22, 'above'), {
        limit: 22,
        side: 'above',
        delaySeconds: 0,
        resetSeconds: 0,
      }).length,
    ]);
    expect([...raw.alarms]).toEqual([0]);
  });

  it('has no alarm and no dose of a signal of no samples', () => {
    const none = everySeconds(1, []);
    const grid = replayGrid(none, none, [], 22, { limitsMmHg: [20], delaysSeconds: [0], resetSeconds: 0 });
    expect([...grid.raw.alarms, ...grid.cleaned.sustained]).toEqual([0, 0]);
  });
});

describe('dose from the start of an episode', () => {
  it('is the dose of that part, wherever it ends', () => {
    holds(
      fc.property(
        signals(),
        intervals(),
        fc.array(fc.double({ min: 0, max: 1, noNaN: true })),
        (signal, window, parts) => {
          const dose = doseFrom(signal, window, 22);
          for (const part of [0, ...parts, 1]) {
            const end = window.start + part * (window.end - window.start);
            const expected = doseAboveMmHgHours(signal, { start: window.start, end }, 22);
            expect(Math.abs(dose(end) - expected)).toBeLessThan(1e-9 * Math.max(1, expected));
          }
        },
      ),
    );
  });

  it('is a triangle', () => {
    const triangle = through([
      [0, 22],
      [3600, 32],
      [7200, 22],
    ]);
    const dose = doseFrom(triangle, { start: T0, end: T0 + 7_200_000 }, 22);
    expect(dose(T0 + 1_800_000)).toBeCloseTo(1.25, 12);
    expect(dose(T0 + 7_200_000)).toBeCloseTo(10, 12);
  });
});
