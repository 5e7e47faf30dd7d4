import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { ZoneClock } from '../../src/recording/zone.js';
import type { UnitAuditInput } from '../../src/summarize/alarms/audit-settings.js';
import type { AuditedAlarm, AuditedEpisode, PatientAudit } from '../../src/summarize/alarms/patient-audit.js';
import type { Outcome, TimeTo } from '../../src/summarize/alarms/response.js';
import { hoursIn } from '../../src/summarize/calendar.js';

const DAY_MS = 86_400_000;
const MINUTE_MS = 60_000;

/** What an invented unit is like. */
export interface Invented {
  readonly seed: number;
  readonly patients: number;
  readonly weeks: number;
  /** Weeks after the start from which on answers are faster; null where nothing changes. */
  readonly changedAfterWeeks: number | null;
  /** Median minutes to treatment are divided by it after the change. */
  readonly faster: number;
  /** How much the rates and answers of patients differ: the standard deviation of their logarithm. */
  readonly spread: number;
  readonly zone: string;
}

const DEFAULTS: Invented = {
  seed: 1,
  patients: 30,
  weeks: 26,
  changedAfterWeeks: null,
  faster: 1,
  spread: 0.5,
  zone: 'Europe/Oslo',
};

/** A time with its outcome, out of when each thing would come, minutes. */
function firstOf(...of: readonly [minutes: number, outcome: Outcome][]): TimeTo {
  const [minutes, outcome] = of.reduce((best, one) => (one[0] < best[0] ? one : best));
  return { minutes, outcome };
}

/** A unit whose patients come over the weeks, each with alarms and episodes of its own rate. Invented, seeded. */
export function inventedUnit(options: Partial<Invented> = {}): UnitAuditInput {
  const of = { ...DEFAULTS, ...options };
  const random = xoroshiro128plus(of.seed);
  const chance = () => uniformFloat64(random);
  const wait = (mean: number) => -Math.log(1 - chance()) * mean;
  const normal = () => Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance());
  const clock = new ZoneClock(of.zone);
  const mondayAfter = (weeks: number): number =>
    clock.toUtc(Date.parse('2031-01-06T00:00:00Z') + weeks * 7 * DAY_MS)[0];
  const start = mondayAfter(0);
  const period = { start, end: mondayAfter(of.weeks) };
  const changedMs = of.changedAfterWeeks === null ? null : mondayAfter(of.changedAfterWeeks);
  const patients = Array.from({ length: of.patients }, (_, i): PatientAudit => {
    const days = uniformInt(random, 3, 12);
    const from =
      start + Math.floor(((of.weeks * 7 - days) * 24 * i) / Math.max(1, of.patients - 1)) * 3_600_000;
    const extent = { start: from, end: from + days * DAY_MS };
    const rate = Math.exp(of.spread * normal());
    const slow = Math.exp(of.spread * normal());
    const episodes: AuditedEpisode[] = [];
    for (let at = from + wait(DAY_MS / rate); at < extent.end; at += wait(DAY_MS / rate)) {
      const isFast = changedMs !== null && at >= changedMs;
      const treat = wait((14 * slow) / (isFast ? of.faster : 1));
      const resolve = 5 + wait(30);
      const followed = wait(240);
      const others: [number, Outcome][] = [
        [resolve, 'resolved'],
        [followed, 'cut'],
        [wait(3000), 'died'],
      ];
      const isAlarmed = chance() < 0.9;
      const treated = firstOf([treat, 'happened'], ...others);
      episodes.push({
        channel: chance() < 0.7 ? 'icp' : 'cpp',
        episode: { start: at, end: at + (resolve + 5) * MINUTE_MS, openStart: false, openEnd: false },
        from: at,
        hadAlarm: isAlarmed,
        acknowledged: firstOf([isAlarmed ? wait(2 * slow) : Number.POSITIVE_INFINITY, 'happened'], ...others),
        treated,
        treatedAt: treated.outcome === 'happened' ? at + treated.minutes * MINUTE_MS : null,
        resolved: firstOf([resolve, 'happened'], ...others.slice(1)),
        notice: isAlarmed ? 'inTime' : 'none',
        alarmAfterMinutes: isAlarmed ? 0 : null,
        followedMinutes: followed,
        extremeMmHg: 30,
        doseMmHgHours: 1,
      });
    }
    const alarms: AuditedAlarm[] = [];
    for (let at = from + wait(DAY_MS / (8 * rate)); at < extent.end; at += wait(DAY_MS / (8 * rate))) {
      const kind = chance();
      const channel = chance() < 0.6 ? 'icp' : 'cpp';
      alarms.push({
        channel,
        onset: at,
        side: channel === 'icp' ? 'above' : 'below',
        limit: 22,
        isLimitLogged: true,
        priority: 'high',
        acknowledged: at + MINUTE_MS,
        ended: at + 2 * MINUTE_MS,
        alarmClass:
          kind < 0.15 * slow
            ? 'sustained'
            : kind < 0.2 * slow
              ? 'cutShort'
              : kind < 0.95
                ? 'brief'
                : 'cannotTell',
        rule: null,
        crossing: at,
        back: at + MINUTE_MS,
        why: null,
      });
    }
    const channel = {
      intervalSeconds: 1,
      rawHours: 24 * days,
      cleanedHours: 24 * days,
      episodesReason: null,
      undetermined: 0,
    };
    return {
      id: String(100 + i),
      extent,
      channels: { icp: channel, cpp: channel },
      alarms,
      unjudged: [],
      episodes,
      hours: hoursIn(extent, clock).map((hour) => ({
        ...hour,
        icpMs: hour.end - hour.start,
        cppMs: (hour.end - hour.start) / 2,
      })),
      lags: { reachSeconds: 600, counts: new Uint32Array(1201), alarms: alarms.length },
      replay: null,
    };
  });
  return {
    patients,
    settings: {
      per: 'week',
      changed: changedMs === null ? null : { atMs: changedMs, what: 'new checklist' },
      lateSeconds: { icp: 60, cpp: 60 },
      limitsMmHg: { icp: 22, cpp: 60 },
      tried: { limitsMmHg: [22], delaysSeconds: [0], resetSeconds: 5 },
      present: null,
      maskBelow: null,
      hasPseudonyms: false,
      treatments: null,
    },
    clock,
    period,
    night: { fromMinutes: 19 * 60, toMinutes: 7 * 60 },
    alarmsCover: period,
    careCover: period,
    hasAcknowledgements: true,
  };
}
