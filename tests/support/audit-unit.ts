import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { ZoneClock } from '../../src/recording/zone.js';
import type { UnitAuditInput } from '../../src/summarize/alarms/audit-settings.js';
import { ALARM_CLASSES, type AlarmClass } from '../../src/summarize/alarms/judge.js';
import type {
  AuditChannel,
  AuditedAlarm,
  AuditedEpisode,
  MonitoredHour,
  PatientAudit,
  UnjudgedAlarm,
} from '../../src/summarize/alarms/patient-audit.js';
import type { AlarmLogAccount } from '../../src/summarize/alarms/unit-alarm-log.js';
import { hoursIn } from '../../src/summarize/calendar.js';
import { lagsOf, REACH_SECONDS } from './lags.js';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;

export const OSLO = new ZoneClock('Europe/Oslo');
/** Over the night in which summer time ends: 1 October to 1 November 2031. */
export const MONTH = { start: Date.parse('2031-09-30T22:00:00Z'), end: Date.parse('2031-10-31T23:00:00Z') };

/** An invented alarm; all that is not given is plain. */
export const alarmAt = (
  onset: number,
  alarmClass: AlarmClass,
  more: Partial<AuditedAlarm> = {},
): AuditedAlarm => ({
  alarmClass,
  rule: alarmClass === 'artifact' ? 'briefSpike' : alarmClass === 'suspect' ? 'step' : null,
  crossing: alarmClass === 'cannotTell' || alarmClass === 'noCrossing' ? null : onset - 5000,
  back: alarmClass === 'cannotTell' || alarmClass === 'noCrossing' ? null : onset + 4 * MINUTE,
  why: alarmClass === 'cannotTell' ? 'no data' : null,
  channel: 'icp',
  onset,
  side: 'above',
  limit: 22,
  isLimitLogged: true,
  priority: 'high',
  acknowledged: null,
  ended: null,
  ...more,
});

/** An invented sustained episode of 12 min. */
export function episodeAt(start: number, more: Partial<AuditedEpisode> = {}): AuditedEpisode {
  const { treated, from = start } = more;
  const treatedAt = treated?.outcome === 'happened' ? from + treated.minutes * MINUTE : null;
  return { ...plainEpisode(start), treatedAt, ...more };
}

const plainEpisode = (start: number): AuditedEpisode => ({
  episode: { start, end: start + 12 * MINUTE, openStart: false, openEnd: false },
  from: start,
  hadAlarm: false,
  acknowledged: null,
  treated: null,
  treatedAt: null,
  resolved: { minutes: 9, outcome: 'happened' },
  followedMinutes: 600,
  channel: 'icp',
  notice: 'none',
  alarmAfterMinutes: null,
  extremeMmHg: 31,
  doseMmHgHours: 1.2,
});

/** An invented patient who was monitored all the time. */
export function patientOver(
  id: string,
  extent: PatientAudit['extent'],
  more: Partial<PatientAudit> = {},
): PatientAudit {
  const hours: MonitoredHour[] = hoursIn(extent, OSLO).map(({ start, end }) => ({
    start,
    end,
    icpMs: end - start,
    cppMs: (end - start) / 2,
  }));
  const channel = {
    intervalSeconds: 1,
    rawHours: (extent.end - extent.start) / HOUR,
    cleanedHours: ((extent.end - extent.start) / HOUR) * 0.9,
    episodesReason: null,
    undetermined: 0,
  };
  return {
    id,
    extent,
    channels: { icp: channel, cpp: channel },
    alarms: [],
    unjudged: [],
    episodes: [],
    hours,
    lags: { reachSeconds: REACH_SECONDS, counts: new Uint32Array(2 * REACH_SECONDS + 1), alarms: 0 },
    replay: null,
    ...more,
  };
}

/** The input around some patients. */
export const unitOf = (
  patients: readonly PatientAudit[],
  more: Partial<UnitAuditInput> = {},
): UnitAuditInput => ({
  patients,
  settings: {
    per: 'week',
    changed: null,
    lateSeconds: { icp: 300, cpp: 300 },
    limitsMmHg: { icp: 22, cpp: 60 },
    tried: { limitsMmHg: [20, 22], delaysSeconds: [0, 60], resetSeconds: 10 },
    present: null,
    maskBelow: null,
    hasPseudonyms: false,
    treatments: null,
  },
  clock: OSLO,
  period: MONTH,
  night: { fromMinutes: 19 * 60, toMinutes: 7 * 60 },
  alarmsCover: MONTH,
  careCover: MONTH,
  hasAcknowledgements: true,
  ...more,
});

/** An invented unit of so many patients over a month, with some of everything, and an account that adds up. */
export function auditUnit(
  patients: number,
  seed: number,
  offsetSeconds = 0,
): { input: UnitAuditInput; account: AlarmLogAccount } {
  const source = xoroshiro128plus(seed);
  const uniform = (): number => uniformFloat64(source);
  const pick = <T>(list: readonly T[]): T =>
    list[Math.min(list.length - 1, Math.floor(uniform() * list.length))];
  const all = Array.from({ length: patients }, (_, i): PatientAudit => {
    const days = 1 + uniform() * 6;
    const start =
      Math.round((MONTH.start + uniform() * (MONTH.end - MONTH.start - days * DAY)) / 1000) * 1000;
    const extent = { start, end: start + Math.round(days * 86_400) * 1000 };
    const within = (): number => Math.round((start + uniform() * days * DAY) / 1000) * 1000;
    const truth = uniform();
    const alarms: AuditedAlarm[] = [];
    for (let n = Math.floor(days * 12 * uniform()); n > 0; n--) {
      const channel: AuditChannel = uniform() < 0.7 ? 'icp' : 'cpp';
      const alarmClass = uniform() < truth * 0.5 ? 'sustained' : pick(ALARM_CLASSES);
      const onset = within();
      const side = channel === 'icp' ? ('above' as const) : ('below' as const);
      const more = {
        channel,
        side,
        limit: channel === 'icp' ? pick([20, 22]) : 60,
        isLimitLogged: uniform() < 0.95,
        ...(alarmClass === 'artifact' ? { rule: pick(['briefSpike', 'coughTrain', 'zeroing']) } : {}),
      };
      const crowd = uniform() < 0.03 ? 12 : uniform() < 0.1 ? 2 : 1;
      for (let k = 0; k < crowd; k++) alarms.push(alarmAt(onset + k * 40_000, alarmClass, more));
    }
    alarms.sort((a, b) => a.onset - b.onset);
    const episodes = Array.from({ length: Math.floor(uniform() * 5) }, (): AuditedEpisode => {
      const at = within();
      const channel: AuditChannel = uniform() < 0.6 ? 'icp' : 'cpp';
      const notice = pick(['inTime', 'inTime', 'late', 'none', 'notCovered'] as const);
      const alarmAfterMinutes = notice === 'inTime' ? 1 : notice === 'late' ? 5 + uniform() * 9 : null;
      return episodeAt(at, {
        channel,
        notice,
        alarmAfterMinutes,
        hadAlarm: alarmAfterMinutes !== null,
        from: at + (alarmAfterMinutes ?? 0) * MINUTE,
        doseMmHgHours: uniform() * 4,
        treated:
          uniform() < 0.6
            ? { minutes: uniform() * 20, outcome: 'happened' }
            : { minutes: 25, outcome: 'resolved' },
      });
    }).sort((a, b) => a.episode.start - b.episode.start);
    const unjudged = Array.from(
      { length: Math.floor(uniform() * 8) },
      (): UnjudgedAlarm => ({
        onset: within(),
        ...pick([
          { parameter: 'SpO2', why: 'otherChannel' as const },
          { parameter: 'HR', why: 'otherChannel' as const },
          { parameter: 'Lead off', why: 'unknownParameter' as const },
          { parameter: 'ICP', why: 'outside' as const },
          { parameter: 'ICP', why: 'notInPeriod' as const },
        ]),
      }),
    ).sort((a, b) => a.onset - b.onset);
    const lags = lagsOf({
      seed: seed * 100 + i,
      crossings: 40,
      following: Math.min(40, alarms.length >> 1),
      random: alarms.length >> 2,
      offsetSeconds,
      days,
    });
    return patientOver(`LB-${i + 1}`, extent, { alarms, episodes, unjudged, lags });
  });
  const told = all.reduce((sum, { alarms, unjudged }) => sum + alarms.length + unjudged.length, 0);
  const setAside = [
    { kind: 'time', reason: 'its time cannot be read', rows: 7 },
    { kind: 'patient', reason: 'it names no patient', rows: 2 },
  ];
  return {
    input: unitOf(all),
    account: { rowsRead: told + 9 + 4 + 11, setAside, merged: 4, withoutExport: 11 },
  };
}
