import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ReplayedReading, ReplayGrid } from '../../../src/summarize/alarms/replay-grid.js';
import { whatIf } from '../../../src/summarize/alarms/unit-what-if.js';
import { againstPresent, choicesAmong } from '../../../src/summarize/alarms/what-if-choices.js';
import { inventedUnit, patientOf, unitOf } from '../../report/audit/what-if-unit.js';
import { holds } from '../../support/properties.js';
import { T0 } from '../../support/signals.js';

const MISSED = Number.NaN;
const TRIED = { limitsMmHg: [20, 25], delaysSeconds: [0, 300], resetSeconds: 0 };

/** Cells: 20 mmHg without and with delay, 25 mmHg likewise; minutes and doses of an episode of 40 and one of 10 min. */
const reading = (alarms: number[], sustained: number[], minutes: number[]): ReplayedReading => ({
  alarms: Uint32Array.from(alarms),
  sustained: Uint32Array.from(sustained),
  noticedMinutes: Float64Array.from(minutes),
  doseMmHgHours: Float64Array.from(minutes, (one) => one / 8),
});

const grid = (raw: ReplayedReading, cleaned: ReplayedReading, minutes: readonly number[]): ReplayGrid => ({
  ...TRIED,
  episodes: minutes.map((long, i) => ({
    start: T0 + i * 7_200_000,
    end: T0 + i * 7_200_000 + long * 60_000,
  })),
  raw,
  cleaned,
});

const first = grid(
  reading([12, 4, 6, 2], [5, 4, 2, 1], [0, 0, 3, 5, 4, MISSED, MISSED, MISSED]),
  reading([7, 4, 3, 2], [5, 4, 2, 1], [0, 0, 3, 5, 4, MISSED, MISSED, MISSED]),
  [40, 10],
);
const second = grid(
  reading([8, 1, 2, 0], [1, 1, 1, 0], [1, 6, 2, MISSED]),
  reading([1, 1, 1, 0], [1, 1, 1, 0], [1, 6, 2, MISSED]),
  [20],
);
const unit = unitOf([patientOf('7', first, 36), patientOf('8', null, 50), patientOf('9', second, 12)], {
  tried: TRIED,
  present: { limitMmHg: 20, delaySeconds: 0 },
});

describe('what if, of a unit', () => {
  const found = whatIf(unit)!;
  const [now, delayed, higher, both] = found.cells.raw;

  it('counts what the settings raise and catch, a monitored day of the patients that were replayed', () => {
    expect(found).toMatchObject({ notReplayed: 1, monitoredDays: 2, episodes: 3, longEpisodes: 1 });
    expect(now).toMatchObject({
      limitMmHg: 20,
      delaySeconds: 0,
      alarms: 20,
      sustainedAlarms: 6,
      episodesCaught: 3,
    });
    expect(now).toMatchObject({ alarmsPerDay: 10, sustainedShare: 0.3, caughtShare: 1, longMissed: 0 });
    expect(higher).toMatchObject({ limitMmHg: 25, alarms: 8, episodesCaught: 2, alarmsPerDay: 4 });
    expect(found.cells.cleaned[0]).toMatchObject({ alarms: 8, sustainedAlarms: 6, alarmsPerDay: 4 });
  });

  it('takes medians over the episodes that are caught, and says why there is none', () => {
    expect(now).toMatchObject({ medianNoticeMinutes: 0, medianDoseMmHgHours: 0 });
    expect(delayed).toMatchObject({ medianNoticeMinutes: 5, medianDoseMmHgHours: 0.625 });
    expect(higher).toMatchObject({ medianNoticeMinutes: 3, medianDoseMmHgHours: 0.375 });
    expect(both).toMatchObject({
      alarms: 2,
      caughtShare: 0,
      longMissed: 1,
      medianNoticeMinutes: { reason: 'no episode would have been caught' },
    });
  });

  it('chooses on raw ICP what nothing beats', () => {
    expect(found.choices.map(({ cell }) => cell)).toEqual([1, 2, 0]);
    expect(found.againstPresent).toEqual({ fewestAlarms: 1, mostCaught: 1, shortestNotice: 0 });
    expect(found.present).toMatchObject({ cell: 0, alarmsPerDay: { value: 10 } });
    expect(found.present?.alarmsPerDay.lower).toEqual({
      reason: 'an interval needs 10 patients, and there are 2',
    });
  });

  it('lists long episodes with the settings that miss them', () => {
    expect(found.missed).toEqual([
      { patient: '7', start: T0, end: T0 + 2_400_000, missedFrom: [{ limitMmHg: 25, delaySeconds: 300 }] },
    ]);
  });

  it('has no present setting where none is given or it was not tried', () => {
    for (const present of [null, { limitMmHg: 22, delaySeconds: 0 }]) {
      expect(whatIf({ ...unit, settings: { ...unit.settings, present } })).toMatchObject({
        present: null,
        againstPresent: null,
      });
    }
  });

  it('is nothing without a patient that was replayed', () => {
    expect(whatIf(unitOf([patientOf('8', null, 5)]))).toBeNull();
    expect(whatIf(unitOf([]))).toBeNull();
  });
});

describe('a unit of invented patients', () => {
  const found = whatIf(inventedUnit(10))!;

  it('has intervals around its figures, and none of a share of all', () => {
    for (const { cell, alarmsPerDay, caughtShare } of found.choices) {
      const { lower, upper, value } = alarmsPerDay as { lower: number; upper: number; value: number };
      expect(value).toBe(found.cells.raw[cell].alarmsPerDay);
      expect(lower).toBeLessThanOrEqual(value);
      expect(upper).toBeGreaterThanOrEqual(value);
      expect(caughtShare.value).toBe(found.cells.raw[cell].caughtShare);
      if (caughtShare.value === 1) expect(caughtShare.lower).toHaveProperty('reason');
    }
  });

  it('never catches with a longer delay what a shorter one misses', () => {
    const { cells, delaysSeconds } = found;
    cells.raw.forEach((cell, place) => {
      if (place % delaysSeconds.length === 0) return;
      expect(cell.episodesCaught).toBeLessThanOrEqual(cells.raw[place - 1].episodesCaught);
      expect(cell.alarms).toBeLessThanOrEqual(cells.raw[place - 1].alarms);
    });
  });

  it('counts the missed long episodes of a cell as the list has them', () => {
    found.cells.raw.forEach(({ limitMmHg, delaySeconds, longMissed }) => {
      const listed = found.missed.filter(({ missedFrom }) =>
        missedFrom.some((from) => from.limitMmHg === limitMmHg && from.delaySeconds <= delaySeconds),
      );
      expect(listed).toHaveLength(longMissed);
    });
  });
});

describe('choices', () => {
  const cell = fc.record({
    alarms: fc.integer({ min: 0, max: 6 }),
    episodesCaught: fc.integer({ min: 0, max: 4 }),
    medianNoticeMinutes: fc.integer({ min: 0, max: 4 }),
  });
  const cells = fc
    .array(cell, { minLength: 1, maxLength: 25 })
    .map((list) =>
      list.map((one) =>
        one.episodesCaught === 0 ? { ...one, medianNoticeMinutes: { reason: 'no episode' } } : one,
      ),
    );
  const minutes = ({ medianNoticeMinutes: m }: { medianNoticeMinutes: unknown }) =>
    typeof m === 'number' ? m : Infinity;

  it('are the settings that nothing beats, and each other one is beaten by a choice', () => {
    holds(
      fc.property(cells, (list) => {
        const choices = choicesAmong(list);
        const beats = (a: (typeof list)[number], b: (typeof list)[number]) =>
          a.alarms <= b.alarms &&
          a.episodesCaught >= b.episodesCaught &&
          minutes(a) <= minutes(b) &&
          !(a.alarms === b.alarms && a.episodesCaught === b.episodesCaught && minutes(a) === minutes(b));
        list.forEach((one, place) => {
          if (choices.includes(place)) expect(list.some((other) => beats(other, one))).toBe(false);
          else if (one.episodesCaught > 0)
            expect(choices.some((choice) => beats(list[choice], one))).toBe(true);
        });
      }),
    );
  });

  it('hold the best of all settings against the present one', () => {
    holds(
      fc.property(cells, fc.nat(24), (list, at) => {
        const present = at % list.length;
        const now = list[present];
        const found = againstPresent(list, choicesAmong(list), present);
        const catching = list.filter(({ episodesCaught }) => episodesCaught > 0);
        const fewer = catching.filter((one) => one.episodesCaught >= now.episodesCaught);
        const quiet = catching.filter((one) => one.alarms <= now.alarms);
        const neither = quiet.filter((one) => one.episodesCaught >= now.episodesCaught);
        const best = (values: number[], of: (...v: number[]) => number) =>
          values.length === 0 ? null : of(...values);
        const at0 = <T>(place: number | null, of: (one: (typeof list)[number]) => T): T | null =>
          place === null ? null : of(list[place]);
        expect(at0(found.fewestAlarms, ({ alarms }) => alarms)).toBe(
          best(
            fewer.map(({ alarms }) => alarms),
            Math.min,
          ),
        );
        expect(at0(found.mostCaught, (one) => one.episodesCaught)).toBe(
          best(
            quiet.map((one) => one.episodesCaught),
            Math.max,
          ),
        );
        expect(at0(found.shortestNotice, minutes)).toBe(best(neither.map(minutes), Math.min));
      }),
    );
  });
});
