import { describe, expect, it } from 'vitest';
import { alarmsResult } from '../../../src/report/audit/alarms-result.js';
import { WEEKDAYS } from '../../../src/report/audit/weekdays.js';
import { auditAlarms } from '../../../src/report/results-audit-alarms.js';
import { auditAlarmTables } from '../../../src/report/tables/audit-alarm-tables.js';
import { tidyCsv } from '../../../src/report/tables/tidy-table.js';
import { auditUnit } from '../../support/audit-unit.js';

type Row = Readonly<Record<string, unknown>>;

const { input, account } = auditUnit(14, 5);
const part = auditAlarms.parse(alarmsResult(input, account));
const tables = Object.fromEntries(auditAlarmTables(input).map((table) => [table.name, table.rows as Row[]]));
const { alarms, unjudged, episodes, hours, monitored, lags } = tables;

const count = (rows: readonly Row[], like: Row): number =>
  rows.filter((row) => Object.entries(like).every(([key, value]) => row[key] === value)).length;
const sum = (rows: readonly Row[], key: string): number =>
  rows.reduce((total, row) => total + Number(row[key]), 0);
const numberOf = (set: readonly unknown[]): number => new Set(set.filter((one) => one !== null)).size;

describe('tables of alarms', () => {
  it('have some of everything to count', () => {
    expect(alarms.length).toBeGreaterThan(200);
    expect(new Set(alarms.map((row) => row.class)).size).toBe(8);
    expect(new Set(episodes.map((row) => row.notice)).size).toBe(4);
    expect(new Set(unjudged.map((row) => row.why)).size).toBe(4);
    expect(part.floods.unitCount).toBeGreaterThan(0);
    expect(monitored).toHaveLength(28);
  });

  it.each(part.channels)('let the counts of $channel be counted', (channel) => {
    const of = { channel: channel.channel };
    const own = alarms.filter((row) => row.channel === channel.channel);
    expect(channel.alarms).toBe(own.length);
    for (const one of channel.classes) expect(one.alarms).toBe(count(own, { class: one.alarmClass }));
    for (const { alarmClass, rule, alarms: n } of channel.rules)
      expect(n).toBe(count(own, { class: alarmClass, rule }));
    expect(channel.limitsAssumed).toBe(count(own, { isLimitLogged: false }));
    expect(channel.repeats).toBe(count(own, { isRepeat: true }));
    const { sustained, sustainedOrCutShort } = channel;
    const told = own.length - count(own, { class: 'cannotTell' });
    expect(sustained.ofThoseTold).toMatchObject({ part: count(own, { class: 'sustained' }), whole: told });
    expect(sustainedOrCutShort.ofAll.part).toBe(
      count(own, { class: 'sustained' }) + count(own, { class: 'cutShort' }),
    );
    const covered = hours.filter((row) => row.isCovered === true);
    const key = `${channel.channel}MonitoredHours`;
    expect(channel.monitoredDays).toBeCloseTo(sum(covered, key) / 24, 9);
    expect(channel.patients).toBe(
      numberOf(covered.filter((row) => Number(row[key]) > 0).map((row) => row.patient)),
    );
    for (const { hour, alarms: n, monitoredDays } of channel.byHour) {
      expect(n).toBe(count(own, { hour }));
      const then = covered.filter((row) => row.hour === hour);
      expect(n).toBe(sum(then, `${channel.channel}Alarms`));
      expect(monitoredDays).toBeCloseTo(sum(then, key) / 24, 9);
    }
    for (const { weekday, alarms: n, monitoredDays } of channel.byWeekday) {
      expect(n).toBe(count(own, { weekday }));
      const then = covered.filter((row) => row.weekday === weekday);
      expect(monitoredDays).toBeCloseTo(sum(then, key) / 24, 9);
    }
    for (const [notice, n] of Object.entries(channel.notices))
      expect(n).toBe(count(episodes, { ...of, notice }));
    expect(channel.episodes).toBe(count(episodes, of));
  });

  it('let floods, patients, episodes and the account be counted', () => {
    const { floods, patients, unnoticed, log, clock } = part;
    expect(floods.unitCount).toBe(numberOf(alarms.map((row) => row.unitFlood)));
    expect(floods.unitAlarms).toBe(alarms.length - count(alarms, { unitFlood: null }));
    expect(floods.patientAlarms).toBe(alarms.length - count(alarms, { patientFlood: null }));
    expect(floods.patientCount).toBe(
      numberOf(
        alarms.map((row) => (row.patientFlood === null ? null : `${row.patient} ${row.patientFlood}`)),
      ),
    );
    for (const { patient, channel, ...row } of patients) {
      const of = { patient, channel };
      expect(row.alarms).toBe(count(alarms, of));
      expect(row.sustained).toBe(count(alarms, { ...of, class: 'sustained' }));
      expect(row.artifact).toBe(count(alarms, { ...of, class: 'artifact' }));
      expect(row.episodes).toBe(count(episodes, of));
      expect(row.episodesWithoutAlarm).toBe(count(episodes, { ...of, notice: 'none' }));
    }
    expect(unnoticed.map(({ patient, start, notice }) => `${patient} ${start} ${notice}`)).toEqual(
      episodes
        .filter(({ notice }) => notice === 'late' || notice === 'none')
        .map((row) => `${row.patient} ${row.start} ${row.notice}`),
    );
    for (const one of unnoticed) {
      const row = episodes.find(({ patient, start }) => patient === one.patient && start === one.start);
      expect(row).toMatchObject({
        minutes: one.minutes,
        doseMmHgHours: one.doseMmHgHours,
        alarmAfterMinutes: one.alarmAfterMinutes,
        treatedAfterMinutes: one.treatedAfterMinutes,
      });
    }
    for (const { why, parameter, alarms: n } of log?.unjudged ?? [])
      expect(n).toBe(count(unjudged, { why, parameter }));
    expect(sum(log?.unjudged ?? [], 'alarms')).toBe(unjudged.length);
    expect(sum(clock.minutes, 'pairs')).toBe(sum(lags, 'pairs'));
  });

  it('describe each of their columns, and write every one', () => {
    for (const table of auditAlarmTables(input, (id) => `P${id}`)) {
      const names = table.columns.map(({ name }) => name);
      expect(new Set(names).size).toBe(names.length);
      for (const row of table.rows) expect(Object.keys(row).toSorted()).toEqual(names.toSorted());
      expect(tidyCsv(table).split('\r\n')).toHaveLength(table.rows.length + 2);
      if (names.includes('patient')) expect(tidyCsv(table)).toContain('PLB-1');
    }
    expect(WEEKDAYS).toHaveLength(7);
  });
});
