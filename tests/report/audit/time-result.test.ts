import { describe, expect, it } from 'vitest';
import { maskTime } from '../../../src/report/audit/mask-time.js';
import { weekName } from '../../../src/report/audit/point-name.js';
import { limitWords, runWords } from '../../../src/report/audit/signal-words.js';
import { timeResult } from '../../../src/report/audit/time-result.js';
import { cutWords } from '../../../src/report/audit/time-words.js';
import { auditTime, type ViewResult } from '../../../src/report/results-audit-time.js';
import { inventedUnit } from '../../support/invented-unit.js';
import { runPython } from '../../support/python.js';

const UNIT = inventedUnit({ seed: 8, patients: 40, weeks: 44, changedAfterWeeks: 22, faster: 4 });
const PART = timeResult(UNIT);

describe('alarms over time in results.json', () => {
  it('keep to their schema: full, without logs, of few, and masked', () => {
    const units = [
      UNIT,
      { ...UNIT, alarmsCover: null, careCover: null },
      { ...UNIT, patients: [] },
      { ...inventedUnit({ patients: 3, weeks: 3 }), alarmsCover: { start: 0, end: 1 } },
    ];
    for (const unit of units) {
      const part = timeResult(unit);
      for (const one of [part, maskTime(part, 5)]) {
        expect(auditTime.parse(JSON.parse(JSON.stringify(one)))).toEqual(one);
      }
    }
  });

  it('tell the longest row by its side and its weeks', () => {
    for (const { measure, points, views } of PART.measures) {
      for (const { run, limits } of views) {
        if (run.longest === null) continue;
        const { start, end, side } = run.longest;
        const own = points.filter(
          (point) => point.value !== null && limits.some((one) => one.start === point.start),
        );
        const inRow = own
          .filter((point) => point.start >= start && point.start <= end && point.value !== run.centreLine)
          .map(({ value }) => ((value ?? 0) > (run.centreLine ?? 0) ? 'over' : 'under'));
        expect(inRow, measure).toEqual(Array(run.longest.points).fill(side));
      }
    }
  });
});

// Outside source: the calendar of Python's datetime, isocalendar (ISO 8601).
it('names weeks as ISO 8601 does', () => {
  const days = Array.from({ length: 800 }, (_, i) =>
    new Date(Date.UTC(2026, 0, 1) + i * 5 * 86_400_000).toISOString().slice(0, 10),
  );
  const theirs = runPython<string[]>(
    `import datetime, json, sys
print(json.dumps(['%d-W%02d' % datetime.date.fromisoformat(day).isocalendar()[:2] for day in json.load(sys.stdin)]))`,
    days,
  );
  expect(days.map((day) => weekName(`${day}T00:00:00+01:00`))).toEqual(theirs);
});

const RUN: ViewResult['run'] = {
  centreLine: 5,
  useful: 24,
  longest: { points: 9, side: 'under', start: '2031-03-03T00:00:00+01:00', end: '2031-04-28T00:00:00+02:00' },
  mostInRun: 8,
  crossings: 6,
  fewestCrossings: 8,
  hasSignal: true,
  reason: null,
};

describe('signals in words', () => {
  it('tell how long a row was and how long it may be, and crossings likewise', () => {
    expect(runWords(RUN, 'week')).toBe(
      'signal: 9 weeks in a row under the median (week of 3 March 2031 to week of 28 April 2031), of 8 at most; the median is crossed 6 times, of 8 at least',
    );
    expect(runWords({ ...RUN, mostInRun: 9, crossings: 8 }, 'week')).toBe('no signal');
    expect(runWords({ ...RUN, mostInRun: null, reason: 'too few to tell: 3 points' }, 'month')).toBe(
      'too few to tell: 3 points',
    );
  });

  it('name the points beyond their limits', () => {
    const point = {
      start: '2031-03-03T00:00:00+01:00',
      lower: 1,
      upper: 2,
      plainLower: 1,
      plainUpper: 2,
      plainBeyond: null,
    };
    const of = (...beyond: ('above' | 'below' | null)[]): string =>
      limitWords({ limits: beyond.map((one) => ({ ...point, beyond: one })), limitsReason: null }, 'week');
    expect(of(null, null)).toBe('no signal');
    expect(of(null, 'below')).toBe('signal: week of 3 March 2031 below its limit');
    expect(of(...Array(5).fill('above'))).toMatch(/^signal: 5 weeks beyond the limits, the first 4: /);
  });
});

describe('masked points', () => {
  const BELOW = 6;
  const masked = maskTime(PART, BELOW);

  it('show no small count, and no share from which one could be read', () => {
    let hidden = 0;
    masked.measures.forEach(({ measure, points, views }, k) => {
      points.forEach((point, i) => {
        const { count, size, value, valueReason } = point;
        const was = PART.measures[k].points[i];
        if (valueReason === 'masked') {
          hidden++;
          expect([count, value]).toEqual([null, null]);
          expect(views.every(({ limits }) => limits.every(({ start }) => start !== point.start))).toBe(true);
          return;
        }
        expect(point).toEqual(was);
        if (measure === 'monitoredDays' || size === 0) return;
        const counts =
          measure === 'alarmsPerDay' ? [count] : [count, size, count === null ? null : (size ?? 0) - count];
        for (const n of counts) expect(n === null || n === 0 || n >= BELOW).toBe(true);
      });
    });
    expect(hidden).toBeGreaterThan(20);
  });

  it('are counted among those left out', () => {
    for (const { points, leftOut } of masked.measures) {
      expect(leftOut).toBe(points.filter(({ value }) => value === null).length);
    }
  });
});

describe('the ends of the charts', () => {
  it('are told of where they are cut, and not where a clock was set', () => {
    expect(cutWords(PART)).toBe('');
    const cover = { start: UNIT.period.start + 6 * 86_400_000, end: UNIT.period.start + 21 * 86_400_000 };
    const cut = timeResult({ ...UNIT, alarmsCover: cover, careCover: cover });
    expect(cutWords(cut)).toBe('The first week has 1 day, so that little stands behind it.');
    const both = { ...cover, end: cover.end + 2 * 86_400_000 };
    expect(cutWords(timeResult({ ...UNIT, alarmsCover: both, careCover: both }))).toBe(
      'The first week has 1 day and the last week has 2 days, so that little stands behind them.',
    );
  });
});
