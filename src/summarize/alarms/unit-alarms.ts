import { type Estimate, noEstimate } from '../statistics/estimate.js';
import type { UnitAuditInput } from './audit-settings.js';
import { repeats } from './crowding.js';
import { ALARM_CLASSES, type AlarmClass } from './judge.js';
import { alarmsOf, coveredHours, monitoredDays } from './monitored-days.js';
import type { AuditChannel, AuditedAlarm } from './patient-audit.js';
import { type AlarmShare, ratioOverPatients, shareOverPatients } from './ratio-over-patients.js';

/** A share of all alarms of the side of the unit's rule, and of those of which one can tell anything. */
export interface ShareBothWays {
  readonly ofAll: AlarmShare;
  readonly ofThoseTold: AlarmShare;
}

/** What the alarms of one channel of a unit were. */
export interface UnitAlarms {
  readonly channel: AuditChannel;
  /** Patients of whom the channel was monitored while the log reaches, or at all where there is none. */
  readonly patients: number;
  readonly alarms: number;
  /** Of them, those whose log gives no limit, so that the one of the pipeline file was taken. */
  readonly limitsAssumed: number;
  /** Patient-days over which the channel was monitored, as exported, while the log reaches, or in all where there is none. */
  readonly monitoredDays: number;
  /** Alarms a monitored patient-day; all that were judged count, also while nothing was recorded. */
  readonly perDay: Estimate;
  /** All classes, in their order. */
  readonly classes: readonly { readonly alarmClass: AlarmClass; readonly alarms: number }[];
  /** Artifacts and what is suspect, by the rule that took them, the most first. */
  readonly rules: readonly RuleCount[];
  readonly sustained: ShareBothWays;
  readonly sustainedOrCutShort: ShareBothWays;
  /** Alarms within 2 min behind another of the same patient, channel, side and limit. */
  readonly repeats: number;
}

export interface RuleCount {
  readonly alarmClass: 'artifact' | 'suspect';
  readonly rule: string;
  readonly alarms: number;
}

/** True where the alarm is of the side that the unit's rule is about: others can never be sustained. */
export const isOfRule = ({ channel, side }: AuditedAlarm): boolean =>
  side === (channel === 'icp' ? 'above' : 'below');

/** Alarms of one patient, channel, side and limit are of one kind. */
export const kindOf = ({ channel, side, limit }: AuditedAlarm): string => `${channel} ${side} ${limit}`;

const count = <T>(list: readonly T[], is: (one: T) => boolean): number => list.filter(is).length;

/** Counts, shares and rates of the alarms of a channel over all patients. */
export function unitAlarms({ patients, alarmsCover }: UnitAuditInput, channel: AuditChannel): UnitAlarms {
  const each = patients.map((patient) => ({
    alarms: alarmsOf(patient, channel),
    days: monitoredDays(
      alarmsCover === null ? patient.hours : coveredHours(patient.hours, alarmsCover),
      channel,
    ),
  }));
  const all = each.flatMap(({ alarms }) => alarms);
  const shareOf = (classes: readonly AlarmClass[]): ShareBothWays => {
    const portions = (isOf: (alarm: AuditedAlarm) => boolean) =>
      each.map(({ alarms }) => ({
        part: count(alarms, ({ alarmClass }) => classes.includes(alarmClass)),
        whole: count(alarms, (alarm) => isOfRule(alarm) && isOf(alarm)),
      }));
    return {
      ofAll: shareOverPatients(portions(() => true)),
      ofThoseTold: shareOverPatients(portions(({ alarmClass }) => alarmClass !== 'cannotTell')),
    };
  };
  const monitored = each.filter(({ alarms, days }) => days > 0 || alarms.length > 0);
  return {
    channel,
    patients: count(each, ({ days }) => days > 0),
    alarms: all.length,
    limitsAssumed: count(all, ({ isLimitLogged, limit }) => !isLimitLogged && limit !== null),
    monitoredDays: each.reduce((sum, { days }) => sum + days, 0),
    perDay:
      alarmsCover === null
        ? noEstimate('no alarm log was given')
        : ratioOverPatients(monitored.map(({ alarms, days }) => ({ part: alarms.length, whole: days }))),
    classes: ALARM_CLASSES.map((alarmClass) => ({
      alarmClass,
      alarms: count(all, (alarm) => alarm.alarmClass === alarmClass),
    })),
    rules: rulesOf(all),
    sustained: shareOf(['sustained']),
    sustainedOrCutShort: shareOf(['sustained', 'cutShort']),
    repeats: each.reduce(
      (sum, { alarms }) =>
        sum + repeats(alarms.map((alarm) => ({ onset: alarm.onset, kind: kindOf(alarm) }))),
      0,
    ),
  };
}

function rulesOf(alarms: readonly AuditedAlarm[]): RuleCount[] {
  return (['artifact', 'suspect'] as const).flatMap((alarmClass) => {
    const counts = new Map<string, number>();
    for (const alarm of alarms) {
      if (alarm.alarmClass === alarmClass && alarm.rule !== null)
        counts.set(alarm.rule, (counts.get(alarm.rule) ?? 0) + 1);
    }
    return [...counts]
      .map(([rule, n]) => ({ alarmClass, rule, alarms: n }))
      .sort((a, b) => b.alarms - a.alarms || (a.rule < b.rule ? -1 : 1));
  });
}
