import { describe, expect, it } from 'vitest';
import type { OnsetLags } from '../../../src/summarize/alarms/patient-audit.js';
import { type ClockReading, readClock } from '../../../src/summarize/alarms/unit-clocks.js';
import { type LagsOf, lagsOf } from '../../support/lags.js';

/** Lags of a unit: each patient has crossings and alarms of its own. */
function unit(patients: number, seed: number, each: Omit<LagsOf, 'seed'>): OnsetLags {
  const all = Array.from({ length: patients }, (_, i) => lagsOf({ ...each, seed: seed * 1000 + i }));
  const counts = new Uint32Array(all[0].counts.length);
  for (const lags of all)
    lags.counts.forEach((n, i) => {
      counts[i] += n;
    });
  return {
    reachSeconds: all[0].reachSeconds,
    counts,
    alarms: all.reduce((sum, { alarms }) => sum + alarms, 0),
  };
}

const kinds = (readings: readonly ClockReading[]): Record<string, number> => {
  const counts: Record<string, number> = {};
  for (const { is } of readings) counts[is] = (counts[is] ?? 0) + 1;
  return counts;
};

describe('clocks of the alarm log', () => {
  it('finds what they are apart, within 5 s, under as many alarms again that are noise', () => {
    for (const [i, offsetSeconds] of [-5400, -3600, -437, -75, 90, 300, 1234, 3600, 7000].entries()) {
      const reading = readClock(
        unit(10, i, { crossings: 60, following: 25, random: 25, offsetSeconds, delaySeconds: 5 }),
      );
      expect(reading.piles).toHaveLength(1);
      expect(
        Math.abs((reading.piles[0]?.offsetSeconds ?? Number.NaN) - offsetSeconds - 5),
      ).toBeLessThanOrEqual(5);
      expect(reading.is).toBe(offsetSeconds % 1800 === 0 ? 'hours' : 'apart');
      if (reading.is === 'hours') expect(reading.apartSeconds).toBe(offsetSeconds);
    }
  });

  it('finds it also where three of four alarms are noise', () => {
    const found = Array.from({ length: 20 }, (_, seed) =>
      readClock(
        unit(10, 200 + seed, {
          crossings: 60,
          following: 12,
          random: 36,
          offsetSeconds: -240,
          delaySeconds: 10,
        }),
      ),
    );
    expect(kinds(found)).toEqual({ apart: 20 });
    for (const { piles } of found)
      expect(Math.abs((piles[0]?.offsetSeconds ?? Number.NaN) + 230)).toBeLessThanOrEqual(5);
  });

  it('takes an alarm that comes as monitors delay it for no sign of anything', () => {
    for (const delaySeconds of [0, 5, 20, 45]) {
      const reading = readClock(unit(10, 50, { crossings: 60, following: 25, random: 25, delaySeconds }));
      expect(reading.is).toBe('together');
      expect(Math.abs((reading.piles[0]?.offsetSeconds ?? Number.NaN) - delaySeconds)).toBeLessThanOrEqual(5);
    }
  });

  it('claims nothing from alarms that have to do with no crossing', () => {
    const of = (patients: number, crossings: number, random: number): Record<string, number> =>
      kinds(
        Array.from({ length: 200 }, (_, seed) =>
          readClock(unit(patients, 1000 + seed, { crossings, following: 0, random })),
        ),
      );
    expect(of(10, 60, 30)).toEqual({ none: 200 });
    expect(of(1, 20, 25)).toEqual({ none: 200 });
    expect(of(1, 200, 60)).toEqual({ none: 200 });
    expect(of(1, 2000, 25)).toEqual({ none: 200 });
  });

  it('says that there are two where the clock was changed in between', () => {
    const before = unit(6, 1, { crossings: 60, following: 25, random: 10 });
    const behind = unit(6, 2, { crossings: 60, following: 25, random: 10, offsetSeconds: 3600 });
    const reading = readClock({
      ...before,
      counts: before.counts.map((n, i) => n + behind.counts[i]),
      alarms: before.alarms + behind.alarms,
    });
    expect(reading.is).toBe('two');
    const offsets = reading.piles.map(({ offsetSeconds }) => offsetSeconds).sort((a, b) => a - b);
    expect(Math.abs(offsets[0] - 5)).toBeLessThanOrEqual(5);
    expect(Math.abs(offsets[1] - 3605)).toBeLessThanOrEqual(5);
  });

  it('does not choose where waves repeat themselves', () => {
    // Crossings 90 s apart for an hour, each with its alarm: a pile every 90 s, one about as high as the next.
    const counts = new Uint32Array(2 * 7200 + 1);
    for (let a = 0; a < 40; a++) for (let b = 0; b < 40; b++) counts[7200 + 5 + (a - b) * 90]++;
    expect(readClock({ reachSeconds: 7200, counts, alarms: 40 }).is).toBe('none');
  });

  it('says nothing of under 20 alarms', () => {
    const lags = lagsOf({ seed: 3, crossings: 19, following: 19, random: 0 });
    expect(readClock(lags).is).toBe('tooFew');
    expect(readClock({ ...lags, alarms: 20 }).is).toBe('together');
  });
});
