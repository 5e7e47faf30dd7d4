import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Happened, Moment } from '../../../src/ingest/tables/describe.js';
import {
  type StudyWindows,
  studyWindows,
  type WindowRow,
} from '../../../src/summarize/study/study-windows.js';
import { holds } from '../../support/properties.js';
import { T0 } from '../../support/signals.js';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const at = (hours: number): Moment => ({
  utcMs: T0 + hours * HOUR,
  endUtcMs: T0 + hours * HOUR,
  isDay: false,
});
/** A date alone, whose day begins so many hours after T0. */
const day = (hours: number): Moment => ({
  utcMs: T0 + hours * HOUR,
  endUtcMs: T0 + hours * HOUR + DAY,
  isDay: true,
});
const happened = (moment: Moment | null): Happened => ({ happened: true, at: moment });
const BLANK: WindowRow = {
  injury: null,
  monitoringFrom: null,
  monitoringTo: null,
  withdrawn: null,
  brainDeath: null,
  death: null,
};
/** ICP of five days. */
const ICP = { start: T0, end: T0 + 120 * HOUR };
const windowsOf = (row: Partial<WindowRow>, icp = ICP): StudyWindows =>
  studyWindows(icp, { ...BLANK, ...row });
const stayOf = (row: Partial<WindowRow>) => {
  const { stay } = windowsOf(row);
  return 'reason' in stay ? stay.reason : { to: (stay.end - T0) / HOUR, endsBy: stay.endsBy };
};
const daysOf = (row: Partial<WindowRow>) => {
  const { days } = windowsOf(row);
  if ('reason' in days) return days.reason;
  return days.map((one) => [one.day, (one.start - T0) / HOUR, (one.end - T0) / HOUR, one.endsBy]);
};

describe('windows of a study', () => {
  it('are the first 72 h and the whole of ICP where the table cuts nothing', () => {
    const { primary, stay, remarks } = windowsOf({});
    expect(primary).toEqual({ start: T0, end: T0 + 72 * HOUR, endsBy: 'length' });
    expect(stay).toEqual({ ...ICP, endsBy: 'data' });
    expect(remarks).toEqual([]);
  });
  it('say so where monitoring begins long after the injury: the year may be wrong', () => {
    const remark = 'monitoring begins more than 30 days after the injury that the table gives';
    expect(windowsOf({ injury: at(-31 * 24) }).remarks).toEqual([remark]);
    expect(windowsOf({ injury: at(-29 * 24) }).remarks).toEqual([]);
  });
  it('take as many first hours as asked', () => {
    expect(studyWindows(ICP, BLANK, { primaryHours: 24 }).primary).toEqual({
      start: T0,
      end: T0 + DAY,
      endsBy: 'length',
    });
    expect(studyWindows(ICP, BLANK, { primaryHours: 200 }).primary).toEqual({ ...ICP, endsBy: 'data' });
  });
  it('stop at the earliest of withdrawal, brain death, death and the end of monitoring', () => {
    const all = {
      withdrawn: happened(at(50)),
      brainDeath: happened(at(60)),
      death: happened(at(70)),
      monitoringTo: at(80),
    };
    expect(stayOf(all)).toEqual({ to: 50, endsBy: 'withdrawn' });
    expect(stayOf({ ...all, withdrawn: null })).toEqual({ to: 60, endsBy: 'brainDeath' });
    expect(stayOf({ death: all.death, monitoringTo: all.monitoringTo })).toEqual({ to: 70, endsBy: 'death' });
    expect(stayOf({ monitoringTo: all.monitoringTo })).toEqual({ to: 80, endsBy: 'monitoringTo' });
    expect(stayOf({ death: happened(at(500)) })).toEqual({ to: 120, endsBy: 'data' });
    expect(windowsOf(all).primary).toEqual({ start: T0, end: T0 + 50 * HOUR, endsBy: 'withdrawn' });
  });
  it('stop a withdrawal or a death with a date alone at the start of that day, and say so', () => {
    expect(stayOf({ death: happened(day(54)) })).toEqual({ to: 54, endsBy: 'death' });
    expect(windowsOf({ death: happened(day(54)) }).remarks).toEqual([
      'the patient died on a day of which no time is given: nothing of that day counts',
    ]);
  });
  it('stop an end of monitoring with a date alone at the end of that day', () => {
    expect(stayOf({ monitoringTo: day(54) })).toEqual({ to: 78, endsBy: 'monitoringTo' });
  });
  it('cannot stop where no time is given, and say so', () => {
    const { stay, remarks } = windowsOf({ withdrawn: happened(null) });
    expect(stay).toEqual({ ...ICP, endsBy: 'data' });
    expect(remarks).toEqual([
      'treatment was withdrawn at a time that the table does not give: nothing could be cut',
    ]);
    expect(windowsOf({ withdrawn: { happened: false, at: null } }).remarks).toEqual([]);
  });
  it('begin where the table says that monitoring does', () => {
    expect(windowsOf({ monitoringFrom: at(10) }).primary).toEqual({
      start: T0 + 10 * HOUR,
      end: T0 + 82 * HOUR,
      endsBy: 'length',
    });
    expect(windowsOf({ monitoringFrom: at(10) }).remarks).toEqual([
      'over an hour of ICP lies before the beginning of monitoring that the table gives, and does not count',
    ]);
    expect(windowsOf({ monitoringFrom: at(0.5) }).remarks).toEqual([]);
    const before = windowsOf({ monitoringFrom: at(-20) });
    expect(before.primary).toMatchObject({ start: T0 - 20 * HOUR, end: T0 + 52 * HOUR });
    expect(before.remarks).toEqual([
      'monitoring began more than an hour before the first ICP of the exports',
    ]);
    expect(windowsOf({ monitoringFrom: day(-6) }).stay).toMatchObject({ start: T0 });
    expect(windowsOf({ monitoringFrom: day(6) }).stay).toMatchObject({ start: T0 + 6 * HOUR });
  });
  it('are missing, with the reason, where nothing is left', () => {
    expect(stayOf({ withdrawn: happened(at(-1)) })).toBe(
      'treatment was withdrawn before the first ICP that could count',
    );
    expect(stayOf({ monitoringFrom: at(130) })).toBe('monitoring begins behind the last ICP');
    expect(studyWindows(null, BLANK)).toMatchObject({
      primary: { reason: 'the exports hold no ICP' },
      days: { reason: 'the exports hold no ICP' },
    });
  });
  it('hold for a patient who is not in the table, with a word', () => {
    const { stay, days, remarks } = studyWindows(ICP, null);
    expect(stay).toEqual({ ...ICP, endsBy: 'data' });
    expect(days).toEqual({ reason: 'the time of the injury is not known' });
    expect(remarks).toEqual(['the patient is not in the table: nothing says where to stop']);
  });
});

describe('days since injury', () => {
  it('are counted in 24 h from its instant, and cut to the stay', () => {
    expect(daysOf({ injury: at(-6), monitoringTo: at(50) })).toEqual([
      [1, 0, 18, 'length'],
      [2, 18, 42, 'length'],
      [3, 42, 50, 'monitoringTo'],
    ]);
  });
  it('begin late where monitoring does', () => {
    expect(daysOf({ injury: at(-48), monitoringTo: at(24) })).toEqual([[3, 0, 24, 'length']]);
    expect(daysOf({ injury: at(-60), monitoringTo: at(20) })).toEqual([
      [3, 0, 12, 'length'],
      [4, 12, 20, 'monitoringTo'],
    ]);
  });
  it('are missing where the injury is not known to the instant, or lies behind the start of monitoring', () => {
    expect(daysOf({})).toBe('the time of the injury is not known');
    expect(daysOf({ injury: day(-20) })).toBe('the injury has a date without a time of day');
    expect(daysOf({ injury: at(3) })).toBe('monitoring begins before the injury');
  });
  it('fill the stay without a hole, and none is longer than 24 h', () => {
    const hours = fc.integer({ min: -200, max: 0 });
    const ends = fc.option(fc.integer({ min: 1, max: 200 }));
    holds(
      fc.property(hours, ends, ends, (injury, withdrawn, to) => {
        const { stay, days } = windowsOf({
          injury: at(injury + 0.3),
          monitoringFrom: at(0.5),
          withdrawn: withdrawn === null ? null : happened(at(withdrawn)),
          monitoringTo: to === null ? null : at(to),
        });
        if ('reason' in stay || !('map' in days)) throw new Error('a stay was expected');
        expect(days[0].start).toBe(stay.start);
        expect(days.at(-1)?.end).toBe(stay.end);
        days.forEach((one, i) => {
          expect(one.end - one.start).toBeLessThanOrEqual(DAY);
          if (i > 0) expect([one.start, one.day]).toEqual([days[i - 1].end, days[i - 1].day + 1]);
        });
      }),
      100,
    );
  });
});
