import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Outcome } from '../../../src/ingest/tables/outcome.js';
import type { OutcomeChoice } from '../../../src/summarize/study/study-settings.js';
import { type TimedRow, timedOutcome } from '../../../src/summarize/study/timed-outcome.js';
import { moment } from '../../support/invented-study.js';
import { holds } from '../../support/properties.js';

const choice = (months: number | null, withinMonths = 1): OutcomeChoice => ({
  scale: null,
  favourableFrom: null,
  months,
  withinMonths,
});
const MODERATE: Outcome = { scale: 'gose', value: 5 };
const DEAD: Outcome = { scale: 'gose', value: 1 };
const row = (given: Partial<TimedRow>): TimedRow => ({
  outcome: MODERATE,
  assessed: null,
  injury: null,
  ...given,
});
const timing = (given: Partial<TimedRow>, asked: OutcomeChoice): string =>
  timedOutcome(row(given), asked).timing;

describe('the outcome at the time that is asked for', () => {
  it('is any where no time is asked for', () => {
    for (const assessed of [null, { months: 1 }, { months: 60 }]) {
      expect(timedOutcome(row({ assessed }), choice(null))).toEqual({ outcome: MODERATE, timing: 'inTime' });
    }
  });

  it('is none where there is none, whatever is asked', () => {
    expect(timedOutcome(row({ outcome: null, assessed: { months: 6 } }), choice(6))).toEqual({
      outcome: null,
      timing: 'none',
    });
    expect(timing({ outcome: null }, choice(null))).toBe('none');
  });

  it('may be as far away as was said, and three days more, since months differ', () => {
    const at = (months: number) => timing({ assessed: { months } }, choice(6));
    expect([4.9, 5, 6, 7, 7.1].map(at)).toEqual(['otherTime', 'inTime', 'inTime', 'inTime', 'otherTime']);
    expect([4.97, 7.03].map(at)).toEqual(['inTime', 'inTime']);
    expect(timing({ assessed: { months: 6.1 } }, choice(6, 0))).toBe('otherTime');
    expect(timing({ assessed: { months: 6 } }, choice(6, 0))).toBe('inTime');
  });

  it('counts as not known where it is of another time', () => {
    expect(timedOutcome(row({ assessed: { months: 3 } }), choice(6))).toEqual({
      outcome: null,
      timing: 'otherTime',
    });
  });

  it('is death where that was found before: who was dead then is dead later', () => {
    expect(timedOutcome(row({ outcome: DEAD, assessed: { months: 1 } }), choice(6))).toEqual({
      outcome: DEAD,
      timing: 'inTime',
    });
    const dead: Outcome = { scale: 'mortality', isDead: true };
    const alive: Outcome = { scale: 'mortality', isDead: false };
    expect(timing({ outcome: dead, assessed: { months: 1 } }, choice(6))).toBe('inTime');
    expect(timing({ outcome: { scale: 'gos', value: 1 }, assessed: { months: 1 } }, choice(6))).toBe(
      'inTime',
    );
    // Found dead later, a patient may have lived at the time; found alive later, the level then is not told.
    expect(timing({ outcome: dead, assessed: { months: 12 } }, choice(6))).toBe('otherTime');
    expect(timing({ outcome: alive, assessed: { months: 12 } }, choice(6))).toBe('otherTime');
    expect(timing({ outcome: alive, assessed: { months: 1 } }, choice(6))).toBe('otherTime');
  });

  it('of a date is counted from the injury, in months of the calendar on average', () => {
    const injury = moment(Date.UTC(2031, 1, 10, 8));
    const on = (month: number, date: number) =>
      timing({ injury, assessed: moment(Date.UTC(2031, month, date, 8)) }, choice(6));
    expect(on(7, 10)).toBe('inTime');
    // 5 mean months are 152.2 days: five of the calendar, which are 150 here, are in time, and 149 are not.
    expect(on(6, 10)).toBe('inTime');
    expect(on(6, 9)).toBe('otherTime');
    // 7 mean months are 213.1 days: 216 days are in time, 217 are not.
    expect(on(8, 14)).toBe('inTime');
    expect(on(8, 15)).toBe('otherTime');
  });

  it('counts, and is counted as such, where nothing says when', () => {
    const unknown = { outcome: MODERATE, timing: 'unknown' };
    expect(timedOutcome(row({}), choice(6))).toEqual(unknown);
    expect(timedOutcome(row({ assessed: moment(Date.UTC(2031, 7, 10)) }), choice(6))).toEqual(unknown);
  });

  it('is that of the table or none: nothing is made up', () => {
    const outcome = fc.constantFrom<Outcome | null>(MODERATE, DEAD, null, {
      scale: 'mortality',
      isDead: false,
    });
    const assessed = fc.option(fc.record({ months: fc.integer({ min: 0, max: 24 }) }));
    const months = fc.option(fc.integer({ min: 1, max: 24 }));
    holds(
      fc.property(outcome, assessed, months, fc.integer({ min: 0, max: 3 }), (given, when, asked, within) => {
        const found = timedOutcome(row({ outcome: given, assessed: when }), choice(asked, within));
        expect(found.outcome).toEqual(found.timing === 'otherTime' ? null : given);
        expect(found.timing === 'none').toBe(given === null);
      }),
    );
  });
});
