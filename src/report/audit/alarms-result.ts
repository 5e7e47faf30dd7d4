import type { UnitAuditInput } from '../../summarize/alarms/audit-settings.js';
import { AUDIT_CHANNELS, type AuditChannel } from '../../summarize/alarms/patient-audit.js';
import type { AlarmShare } from '../../summarize/alarms/ratio-over-patients.js';
import { unitCrowding } from '../../summarize/alarms/unit-alarm-crowding.js';
import { type AlarmTimes, unitAlarmHours } from '../../summarize/alarms/unit-alarm-hours.js';
import { type AlarmLogAccount, alarmLogSum } from '../../summarize/alarms/unit-alarm-log.js';
import { unitAlarmPatients } from '../../summarize/alarms/unit-alarm-patients.js';
import { type ShareBothWays, unitAlarms } from '../../summarize/alarms/unit-alarms.js';
import { joinLags, ownClocks, readClock } from '../../summarize/alarms/unit-clocks.js';
import { noticeCounts, unnoticed } from '../../summarize/alarms/unit-unnoticed.js';
import type { AuditAlarms } from '../results-audit-alarms.js';
import { estimateResult } from '../results-estimate.js';
import { clockSentence, correctionWords, shiftOf } from './clock-words.js';
import { WEEKDAYS } from './weekdays.js';

/** Seconds of onset minus crossing that a bar of the chart of clocks holds. */
const BAR_SECONDS = 60;

type Channel = AuditAlarms['channels'][number];

const shareResult = ({ part, whole, byPatients, naive }: AlarmShare): Channel['sustained']['ofAll'] => ({
  part,
  whole,
  byPatients: estimateResult(byPatients),
  naive: estimateResult(naive),
});

const bothWays = ({ ofAll, ofThoseTold }: ShareBothWays): Channel['sustained'] => ({
  ofAll: shareResult(ofAll),
  ofThoseTold: shareResult(ofThoseTold),
});

const timesResult = ({ alarms, monitoredDays, perDay }: AlarmTimes) => ({
  alarms,
  monitoredDays,
  perDay: estimateResult(perDay),
});

/** True where most of an hour of the day lies in the night of the unit. */
export function isNightHour(hour: number, { fromMinutes, toMinutes }: UnitAuditInput['night']): boolean {
  const middle = hour * 60 + 30;
  return fromMinutes < toMinutes
    ? middle >= fromMinutes && middle < toMinutes
    : middle >= fromMinutes || middle < toMinutes;
}

function channelResult(input: UnitAuditInput, channel: AuditChannel): Channel {
  const alarms = unitAlarms(input, channel);
  const { byHour, byWeekday } = unitAlarmHours(input, channel);
  const notices = noticeCounts(input, channel);
  const shareOfAll = (n: number): number | null => (alarms.alarms === 0 ? null : n / alarms.alarms);
  return {
    channel,
    patients: alarms.patients,
    alarms: alarms.alarms,
    limitsAssumed: alarms.limitsAssumed,
    limitMmHg: input.settings.limitsMmHg[channel],
    monitoredDays: alarms.monitoredDays,
    perDay: estimateResult(alarms.perDay),
    classes: alarms.classes.map((one) => ({ ...one, share: shareOfAll(one.alarms) })),
    rules: [...alarms.rules],
    sustained: bothWays(alarms.sustained),
    sustainedOrCutShort: bothWays(alarms.sustainedOrCutShort),
    repeats: alarms.repeats,
    repeatShare: shareOfAll(alarms.repeats),
    byHour: byHour.map((one, hour) => ({
      hour,
      isNight: isNightHour(hour, input.night),
      ...timesResult(one),
    })),
    byWeekday: byWeekday.map((one, day) => ({ weekday: WEEKDAYS[day], ...timesResult(one) })),
    notices,
    episodes: Object.values(notices).reduce((sum, n) => sum + n, 0),
    lateSeconds: input.settings.lateSeconds[channel],
  };
}

function clockResult({ patients, settings }: UnitAuditInput): AuditAlarms['clock'] {
  const lags = joinLags(patients);
  const { reachSeconds, counts, alarms } = lags ?? {
    reachSeconds: 0,
    counts: new Uint32Array(0),
    alarms: 0,
  };
  const delaySeconds = settings.present?.delaySeconds ?? 0;
  const reading = readClock({ reachSeconds, counts, alarms }, delaySeconds);
  const minutes: { fromSeconds: number; pairs: number }[] = [];
  counts.forEach((pairs, i) => {
    const fromSeconds = Math.floor((i - reachSeconds) / BAR_SECONDS) * BAR_SECONDS;
    const last = minutes.at(-1);
    if (last?.fromSeconds === fromSeconds) last.pairs += pairs;
    else minutes.push({ fromSeconds, pairs });
  });
  return {
    is: reading.is,
    alarms,
    reachSeconds,
    piles: [...reading.piles],
    shiftSeconds: shiftOf(reading),
    sentence: clockSentence(reading),
    correction: correctionWords(reading),
    minutes,
    patients: ownClocks(patients, reading, delaySeconds).map(({ patient, reading: own }) => ({
      patient,
      is: own.is,
      alarms: own.alarms,
      offsetsSeconds: own.piles.map(({ offsetSeconds }) => offsetSeconds),
    })),
  };
}

function logResult(input: UnitAuditInput, account: AlarmLogAccount): AuditAlarms['log'] {
  const { alarmsCover, clock } = input;
  const sum = alarmLogSum(input, account);
  return {
    from: alarmsCover === null ? null : clock.format(alarmsCover.start),
    to: alarmsCover === null ? null : clock.format(alarmsCover.end),
    rowsRead: sum.rowsRead,
    setAside: sum.setAside.map(({ kind, reason, rows }) => ({ kind, reason, rows })),
    merged: sum.merged,
    withoutExport: sum.withoutExport,
    judged: [...sum.judged],
    unjudged: [...sum.unjudged],
    unaccounted: sum.unaccounted,
  };
}

/**
 * What the alarms of a unit were, as it stands in results.json.
 *
 * @param account what reading the alarm log made of its rows; null where no alarm log was given
 */
export function alarmsResult(input: UnitAuditInput, account: AlarmLogAccount | null): AuditAlarms {
  const { clock } = input;
  const at = ({ start, end }: { start: number; end: number }) => ({
    start: clock.format(start),
    end: clock.format(end),
  });
  const { unitFloods, patientFloods } = unitCrowding(input);
  const alarmsIn = (floods: readonly { readonly alarms: number }[]): number =>
    floods.reduce((sum, { alarms }) => sum + alarms, 0);
  return {
    log: account === null ? null : logResult(input, account),
    channels: AUDIT_CHANNELS.map((channel) => channelResult(input, channel)),
    floods: {
      unitCount: unitFloods.length,
      unitAlarms: alarmsIn(unitFloods),
      patientCount: patientFloods.length,
      patientAlarms: alarmsIn(patientFloods),
      unit: unitFloods.map((flood) => ({ ...at(flood), alarms: flood.alarms })),
      patients: patientFloods.map((flood) => ({
        patient: flood.patient,
        ...at(flood),
        alarms: flood.alarms,
      })),
    },
    patients: unitAlarmPatients(input),
    unnoticed: unnoticed(input).map(({ start, end, treated, ...one }) => ({
      ...one,
      ...at({ start, end }),
      treated: treated.is,
      treatedAfterMinutes: treated.is === 'given' ? treated.afterMinutes : null,
    })),
    clock: clockResult(input),
  };
}
