import { describe, expect, it } from 'vitest';
import { differenceWords } from '../../../src/report/audit/difference-words.js';
import { hiddenParts } from '../../../src/report/audit/mask.js';
import { maskResponse } from '../../../src/report/audit/mask-response.js';
import { responseResult } from '../../../src/report/audit/response-result.js';
import { auditResponse, type ClockResult } from '../../../src/report/results-audit-response.js';
import { unitResponse } from '../../../src/summarize/alarms/unit-response.js';
import { Resampler } from '../../../src/summarize/statistics/resampler.js';
import { inventedUnit } from '../../support/invented-unit.js';

const FEW = new Resampler(100, 5);
const UNIT = inventedUnit({ seed: 3, changedAfterWeeks: 13, faster: 2 });
const FULL = responseResult(UNIT, unitResponse(UNIT, FEW));
const EMPTY = { ...UNIT, patients: [], careCover: null };
const SMALL = inventedUnit({ patients: 3, weeks: 8 });

describe('responses in results.json', () => {
  it('keep to their schema: full, without logs, of few, and masked', () => {
    for (const unit of [UNIT, EMPTY, SMALL]) {
      const part = responseResult(unit, unitResponse(unit, FEW));
      for (const one of [part, maskResponse(part, 5), maskResponse(part, 1000)]) {
        expect(auditResponse.parse(JSON.parse(JSON.stringify(one)))).toEqual(one);
      }
    }
  });

  it('have the times of the clock on the wall', () => {
    const [all, before, after] = FULL.clocks[0].periods;
    expect(before.end).toBe('2031-04-07T00:00:00+02:00');
    expect(after.start).toBe(before.end);
    expect(all.start).toBe('2031-01-06T00:00:00+01:00');
    expect(FULL.changed).toEqual({ at: before.end, what: 'new checklist' });
    expect([FULL.nightFrom, FULL.nightTo]).toEqual(['19:00', '07:00']);
  });
});

describe('a difference in words', () => {
  const of = (value: number, lower: number | null, upper: number | null, reason?: string): string =>
    differenceWords({ value, lower, upper, ...(reason === undefined ? {} : { reason }) }, 15);

  it('tells whether the interval holds 0, and no verdict', () => {
    expect(of(0.12, -0.03, 0.27)).toBe(
      'The share within 15 min after the change minus that before is +12 percentage points (95 % interval −3 to +27); the interval holds 0: the data cannot tell it from no difference.',
    );
    expect(of(-0.12, -0.2, -0.01)).toMatch(
      /^.* is −12 .*; the interval does not hold 0: a difference larger than/,
    );
    expect(of(0.1, 0, 0.2)).toContain('holds 0: the data cannot tell');
    expect(of(0.1, null, null, 'why')).toContain('there is no interval: why.');
  });
});

describe('masked responses', () => {
  const BELOW = 8;
  const masked = maskResponse(FULL, BELOW);
  const OUTCOMES = ['happened', 'resolvedFirst', 'diedFirst', 'cutOff'] as const;

  it('have no count from 1 to under the limit anywhere', () => {
    const small: number[] = [];
    const look = (value: unknown, key: string): void => {
      if (Array.isArray(value)) for (const one of value) look(one, key);
      else if (value !== null && typeof value === 'object') {
        for (const [name, one] of Object.entries(value)) look(one, name);
      } else if (
        typeof value === 'number' &&
        !['minutes', 'knownMinutes', 'maskedBelow', 'resamples', 'value', 'lower', 'upper'].includes(key) &&
        !key.endsWith('Share') &&
        value > 0 &&
        value < BELOW
      ) {
        small.push(value);
      }
    };
    look(FULL, '');
    expect(small.length).toBeGreaterThan(50);
    small.length = 0;
    look(masked, '');
    expect(small).toEqual([]);
    expect(JSON.stringify(masked)).not.toMatch(/there are \d/);
  });

  it('let no small count be told from a sum', () => {
    let hiddenOutcomes = 0;
    for (const { periods } of masked.clocks) {
      const whole = periods[0].episodes;
      const partsOf = (kinds: string[]) =>
        periods.filter(({ kind }) => kinds.includes(kind)).map(({ episodes }) => episodes);
      for (const parts of [partsOf(['before', 'after']), partsOf(['night', 'day']), partsOf(['month'])]) {
        const hidden = parts.filter((n) => n === null).length;
        expect(hidden === 1 && whole !== null).toBe(false);
      }
      for (const period of periods) {
        if (period.episodes === null) continue;
        const outcomes = OUTCOMES.map((name) => period[name]);
        const hidden = outcomes.filter((n) => n === null).length;
        if (hidden > 0) hiddenOutcomes++;
        expect(hidden).not.toBe(1);
        const rest = period.episodes - outcomes.reduce<number>((sum, n) => sum + (n ?? 0), 0);
        if (hidden > 0) expect(rest).toBeGreaterThanOrEqual(BELOW);
      }
    }
    expect(hiddenOutcomes).toBeGreaterThan(2);
  });

  it('let no count be told by taking one part of a whole from it', () => {
    let hidden = 0;
    for (const { periods, notCovered } of masked.clocks) {
      expect(notCovered).toBeNull();
      for (const kinds of [['before', 'after'], ['night', 'day'], ['month']]) {
        const parts = periods.filter(({ kind }) => kinds.includes(kind));
        const isShown = parts.map((one) =>
          [one.episodes, ...OUTCOMES.map((name) => one[name])].every((n) => n !== null),
        );
        // All parts of a split show everything, or none shows anything.
        expect(new Set(isShown).size).toBeLessThanOrEqual(1);
        if (isShown[0]) continue;
        hidden++;
        for (const one of parts) {
          expect(
            [one.episodes, one.patients, ...OUTCOMES.map((name) => one[name])].every((n) => n === null),
          ).toBe(true);
          expect(one.shares.every(({ happened }) => happened === null)).toBe(true);
        }
      }
      expect(periods.every(({ withoutAlarm }) => withoutAlarm === null)).toBe(true);
    }
    expect(hidden).toBeGreaterThan(3);
  });

  it.each([4, 8, 15, 25])(
    'draw curves of what is waited for alone, in steps that each hold enough: %i',
    (below) => {
      let steps = 0;
      maskResponse(FULL, below).clocks.forEach(({ curve }, k) => {
        const total = FULL.clocks[k].periods[0].episodes ?? 0;
        curve?.points.forEach((point, i) => {
          expect(point.minutes % 5).toBe(0);
          expect([point.resolvedFirst, point.diedFirst, point.cutOff]).toEqual([null, null, null]);
          const came = point.happened - (curve.points[i - 1]?.happened ?? 0);
          expect(came === 0 || came >= below).toBe(true);
          expect(point.happened === total || total - point.happened >= below).toBe(true);
          steps += came > 0 ? 1 : 0;
        });
        let told = 0;
        for (const { minutes, episodes } of curve?.atRisk ?? []) {
          const before = FULL.clocks[k].curve?.points.findLast((point) => point.minutes < minutes);
          const ended = before === undefined ? 0 : total - (episodes ?? 0) - before.happened;
          expect(ended === told || ended - told >= below).toBe(true);
          told = ended;
        }
      });
      expect(steps).toBeGreaterThan(5);
    },
  );

  it('are the same as before where nothing is small', () => {
    const plain = (clock: ClockResult) => ({
      ...clock,
      curve: null,
      notCovered: null,
      periods: clock.periods.map((period) => ({ ...period, withoutAlarm: null })),
    });
    const one = maskResponse(FULL, 1);
    expect(one.clocks.map(plain)).toEqual(
      FULL.clocks.map((clock) =>
        JSON.parse(JSON.stringify(plain(clock)).replace(/, and there are \d+/g, '')),
      ),
    );
  });
});

it('a part is hidden with another where the sum would tell it', () => {
  expect(hiddenParts([20, 3, 12, 0], 5)).toEqual([false, true, true, false]);
  expect(hiddenParts([20, 30], 5)).toEqual([false, false]);
  expect(hiddenParts([20, null], 5)).toEqual([true, true]);
});
