import { describe, expect, it } from 'vitest';
import { ALARM_CLASSES } from '../../../src/summarize/alarms/judge.js';
import { unitCrowding } from '../../../src/summarize/alarms/unit-alarm-crowding.js';
import { unitAlarmHours } from '../../../src/summarize/alarms/unit-alarm-hours.js';
import { alarmLogSum } from '../../../src/summarize/alarms/unit-alarm-log.js';
import { unitAlarmPatients } from '../../../src/summarize/alarms/unit-alarm-patients.js';
import { unitAlarms } from '../../../src/summarize/alarms/unit-alarms.js';
import { noticeCounts, unnoticed } from '../../../src/summarize/alarms/unit-unnoticed.js';
import { alarmAt, auditUnit, episodeAt, MONTH, OSLO, patientOver, unitOf } from '../../support/audit-unit.js';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
const START = Date.parse('2031-10-06T22:00:00Z'); // Tuesday 7 October, 00:00 in Oslo.

const twoDays = { start: START, end: START + 2 * DAY };

describe('alarms of a unit', () => {
  it('counts classes, shares and rates', () => {
    const alarms = [
      alarmAt(START + HOUR, 'sustained'),
      alarmAt(START + 2 * HOUR, 'cutShort'),
      alarmAt(START + 3 * HOUR, 'cannotTell'),
      alarmAt(START + 4 * HOUR, 'artifact', { rule: 'zeroing' }),
      alarmAt(START + 5 * HOUR, 'brief', { isLimitLogged: false }),
      alarmAt(START + 6 * HOUR, 'sustained', { channel: 'cpp', side: 'below', limit: 60 }),
    ];
    const found = unitAlarms(
      unitOf([patientOver('1', twoDays, { alarms }), patientOver('2', twoDays)]),
      'icp',
    );
    expect(found.alarms).toBe(5);
    expect(found.patients).toBe(2);
    expect(found.monitoredDays).toBeCloseTo(4, 12);
    expect(found.perDay.value).toBeCloseTo(5 / 4, 12);
    expect(found.perDay.lower).toEqual({ reason: 'an interval needs 10 patients, and there are 2' });
    expect(found.classes.map(({ alarmClass }) => alarmClass)).toEqual(ALARM_CLASSES);
    expect(found.classes.map(({ alarms: n }) => n)).toEqual([1, 0, 1, 1, 1, 0, 1, 0]);
    expect(found.rules).toEqual([{ alarmClass: 'artifact', rule: 'zeroing', alarms: 1 }]);
    expect(found.limitsAssumed).toBe(1);
    const { sustained, sustainedOrCutShort } = found;
    expect([sustained.ofAll.part, sustained.ofAll.whole]).toEqual([1, 5]);
    expect([sustained.ofThoseTold.part, sustained.ofThoseTold.whole]).toEqual([1, 4]);
    expect([sustainedOrCutShort.ofAll.part, sustainedOrCutShort.ofThoseTold.whole]).toEqual([2, 4]);
    expect(sustainedOrCutShort.ofThoseTold.byPatients.value).toBe(0.5);
  });

  it('takes only the time that the log reaches for what was monitored', () => {
    const alarmsCover = { start: START + DAY, end: START + 2 * DAY };
    const found = unitAlarms(unitOf([patientOver('1', twoDays)], { alarmsCover }), 'icp');
    expect(found.monitoredDays).toBeCloseTo(1, 12);
    expect(unitAlarms(unitOf([patientOver('1', twoDays)], { alarmsCover: null }), 'icp')).toMatchObject({
      monitoredDays: 2,
      perDay: { value: { reason: 'no alarm log was given' } },
    });
  });

  it('has a wider interval over patients than as if each alarm stood alone, where alarms of a patient are alike', () => {
    // 20 patients with 20 alarms each, all sustained in 8 of them and none in the others: 20 independent answers, not 400.
    const patients = Array.from({ length: 20 }, (_, i) =>
      patientOver(String(i), twoDays, {
        alarms: Array.from({ length: 20 }, (__, k) =>
          alarmAt(START + k * HOUR, i < 8 ? 'sustained' : 'brief'),
        ),
      }),
    );
    const { byPatients, naive } = unitAlarms(unitOf(patients), 'icp').sustained.ofAll;
    expect(byPatients.value).toBe(0.4);
    const width = ({ lower, upper }: typeof naive): number => Number(upper) - Number(lower);
    // Standard errors of 20 and of 400 independent answers: sqrt(20) apart, 4.5.
    expect(width(byPatients) / width(naive)).toBeGreaterThan(3.5);
    expect(width(byPatients) / width(naive)).toBeLessThan(6);
    expect(Number(byPatients.lower)).toBeCloseTo(0.4 - 2.09 * Math.sqrt(0.24 / 20), 1);
  });

  it('counts repeats of one patient, channel, side and limit, and floods of a bed and of the unit', () => {
    const many = (from: number, n: number, limit = 22) =>
      Array.from({ length: n }, (_, k) => alarmAt(START + from + k * MINUTE, 'brief', { limit }));
    const patients = [
      patientOver('1', twoDays, { alarms: many(0, 10) }),
      patientOver('2', twoDays, { alarms: [...many(DAY, 5), ...many(DAY + 30_000, 1, 20)] }),
      patientOver('3', twoDays, { alarms: many(DAY, 4) }),
    ];
    const input = unitOf(patients);
    expect(unitAlarms(input, 'icp').repeats).toBe(9 + 4 + 3);
    const { unitFloods, patientFloods } = unitCrowding(input);
    expect(patientFloods).toEqual([{ patient: '1', start: START, end: START + 9 * MINUTE, alarms: 10 }]);
    expect(unitFloods.map(({ alarms }) => alarms)).toEqual([10, 10]);
  });

  it('holds alarms against the time that was monitored in their hour, also where the clock is set back', () => {
    // 25 October 12:00 to 26 October 12:00 by the clock on the wall: 25 hours, and twice the hour from 02:00.
    const extent = { start: Date.parse('2031-10-25T10:00:00Z'), end: Date.parse('2031-10-26T11:00:00Z') };
    const both = [Date.parse('2031-10-26T00:30:00Z'), Date.parse('2031-10-26T01:30:00Z')];
    const alarms = both.map((onset) => alarmAt(onset, 'brief'));
    const { byHour, byWeekday } = unitAlarmHours(unitOf([patientOver('1', extent, { alarms })]), 'icp');
    expect(byHour.map(({ alarms: n }) => n)).toEqual([0, 0, 2, ...Array.from({ length: 21 }, () => 0)]);
    expect(byHour[2].monitoredDays).toBeCloseTo(2 / 24, 12);
    expect(byHour[3].monitoredDays).toBeCloseTo(1 / 24, 12);
    expect(byHour[2].perDay.value).toBeCloseTo(24, 12);
    // Saturday has 12 hours of it, Sunday 13.
    expect(byWeekday.map(({ monitoredDays }) => monitoredDays * 24)).toEqual([
      0,
      0,
      0,
      0,
      0,
      expect.closeTo(12, 9),
      expect.closeTo(13, 9),
    ]);
    expect(byWeekday.map(({ alarms: n }) => n)).toEqual([0, 0, 0, 0, 0, 0, 2]);
  });

  it('puts each alarm and each hour in one hour and one weekday', () => {
    const { input } = auditUnit(14, 3);
    for (const channel of ['icp', 'cpp'] as const) {
      const all = unitAlarms(input, channel);
      const { byHour, byWeekday } = unitAlarmHours(input, channel);
      for (const bins of [byHour, byWeekday]) {
        expect(bins.reduce((sum, { alarms }) => sum + alarms, 0)).toBe(all.alarms);
        const days = bins.reduce((sum, { monitoredDays }) => sum + monitoredDays, 0);
        expect(days).toBeCloseTo(all.monitoredDays, 9);
      }
    }
  });

  it('names weekdays as the calendar does', () => {
    for (let day = 0; day < 28; day++) {
      const noon = Date.parse('2031-10-06T10:00:00Z') + day * DAY;
      const alarms = [alarmAt(noon, 'brief')];
      const extent = { start: noon - HOUR, end: noon + HOUR };
      const { byWeekday } = unitAlarmHours(unitOf([patientOver('1', extent, { alarms })]), 'icp');
      // Of JavaScript: Sunday is 0.
      const expected = (new Date(OSLO.toLocal(noon)).getUTCDay() + 6) % 7;
      expect(byWeekday.findIndex(({ alarms: n }) => n === 1)).toBe(expected);
    }
  });

  it('lists episodes that no alarm told of, and those of late alarms, with the first treatment after the crossing', () => {
    const late = episodeAt(START + HOUR, {
      notice: 'late',
      alarmAfterMinutes: 8,
      hadAlarm: true,
      from: START + HOUR + 8 * MINUTE,
      treated: { minutes: 3, outcome: 'happened' },
    });
    const none = episodeAt(START + 3 * HOUR, { treated: { minutes: 9, outcome: 'resolved' } });
    const unknown = episodeAt(START + 5 * HOUR, { channel: 'cpp' });
    const others = (['inTime', 'notCovered'] as const).map((notice) =>
      episodeAt(START + 7 * HOUR, { notice }),
    );
    const input = unitOf([patientOver('7', twoDays, { episodes: [late, none, unknown, ...others] })]);
    expect(noticeCounts(input, 'icp')).toEqual({ inTime: 1, late: 1, none: 1, notCovered: 1 });
    expect(noticeCounts(input, 'cpp')).toEqual({ inTime: 0, late: 0, none: 1, notCovered: 0 });
    expect(unnoticed(input).map(({ start, treated }) => [start, treated])).toEqual([
      [START + HOUR, { is: 'given', afterMinutes: 11 }],
      [START + 3 * HOUR, { is: 'none' }],
      [START + 5 * HOUR, { is: 'unknown' }],
    ]);
    expect(unitAlarmPatients(input)[0]).toEqual({
      patient: '7',
      channel: 'icp',
      alarms: 0,
      sustained: 0,
      artifact: 0,
      monitoredDays: expect.closeTo(2, 12),
      episodes: 4,
      episodesWithoutAlarm: 1,
    });
  });

  it('says where each row of the log went, and by how much that does not add up', () => {
    const { input, account } = auditUnit(10, 4);
    expect(alarmLogSum(input, account).unaccounted).toBe(0);
    expect(alarmLogSum(input, { ...account, rowsRead: account.rowsRead + 3 }).unaccounted).toBe(3);
    const unjudged = [
      { onset: START, parameter: 'HR', why: 'otherChannel' as const },
      { onset: START, parameter: 'ICP', why: 'notInPeriod' as const },
      { onset: START, parameter: 'SpO2', why: 'otherChannel' as const },
      { onset: START, parameter: 'SpO2', why: 'otherChannel' as const },
    ];
    const own = unitOf([patientOver('1', twoDays, { unjudged })], { period: MONTH });
    expect(alarmLogSum(own, { rowsRead: 4, setAside: [], merged: 0, withoutExport: 0 })).toMatchObject({
      unjudged: [
        { why: 'otherChannel', parameter: 'SpO2', alarms: 2 },
        { why: 'otherChannel', parameter: 'HR', alarms: 1 },
        { why: 'notInPeriod', parameter: 'ICP', alarms: 1 },
      ],
      unaccounted: 0,
    });
  });
});
