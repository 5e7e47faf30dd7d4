import type { Interval } from '../../recording/interval.js';
import type { UnitAuditInput } from '../../summarize/alarms/audit-settings.js';
import { type Flood, repeatsAmong } from '../../summarize/alarms/crowding.js';
import { coveredHours } from '../../summarize/alarms/monitored-days.js';
import {
  AUDIT_CHANNELS,
  type AuditedEpisode,
  type PatientAudit,
} from '../../summarize/alarms/patient-audit.js';
import type { TimeTo } from '../../summarize/alarms/response.js';
import { unitCrowding } from '../../summarize/alarms/unit-alarm-crowding.js';
import { hourOfDay, weekday } from '../../summarize/alarms/unit-alarm-hours.js';
import { kindOf } from '../../summarize/alarms/unit-alarms.js';
import { joinLags } from '../../summarize/alarms/unit-clocks.js';
import { treatedAfter } from '../../summarize/alarms/unit-unnoticed.js';
import { WEEKDAYS } from '../audit/weekdays.js';
import { END, PATIENT, START } from './columns.js';
import type { Cell } from './csv.js';
import type { TidyColumn, TidyTable } from './tidy-table.js';

/** A patient as tables name it. */
export type NameOf = (id: string) => string;

const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;

const text = (name: string, says: string): TidyColumn => ({ name, unit: '', says });
const mmHg = (name: string, says: string): TidyColumn => ({ name, unit: 'mm[Hg]', says });
const minutes = (name: string, says: string): TidyColumn => ({ name, unit: 'min', says });
const hours = (name: string, says: string): TidyColumn => ({ name, unit: 'h', says });

const CHANNEL = text('channel', 'icp or cpp');
const ONSET = text('onset', 'When the alarm came on; local time with offset, ISO 8601');
const localTime = (name: string, says: string): TidyColumn =>
  text(name, `${says}; local time with offset, ISO 8601`);

const CLOCK: readonly TidyColumn[] = [
  { name: 'hour', unit: '', says: 'Hour of the clock on the wall, 0 to 23' },
  text('weekday', 'Day of the week by the clock on the wall'),
];

const clockCells = (at: number, { clock }: UnitAuditInput): Record<string, Cell> => ({
  hour: hourOfDay(clock.toLocal(at)),
  weekday: WEEKDAYS[weekday(clock.toLocal(at))],
});

/** Place of the flood that holds an alarm, from 1; null where none does. */
const floodAt = (floods: readonly Flood[], onset: number): number | null => {
  const i = floods.findIndex(({ start, end }) => onset >= start && onset <= end);
  return i < 0 ? null : i + 1;
};

function alarmRows(input: UnitAuditInput, nameOf: NameOf): TidyTable['rows'] {
  const { clock, patients } = input;
  const at = (ms: number | null): Cell => (ms === null ? null : clock.format(ms));
  const { unitFloods, patientFloods } = unitCrowding(input);
  return patients.flatMap(({ id, alarms }) => {
    const isRepeat = repeatsAmong(alarms.map((alarm) => ({ onset: alarm.onset, kind: kindOf(alarm) })));
    const own = patientFloods.filter(({ patient }) => patient === id);
    return alarms.map((alarm, i) => ({
      patient: nameOf(id),
      onset: at(alarm.onset),
      ...clockCells(alarm.onset, input),
      channel: alarm.channel,
      side: alarm.side,
      limitMmHg: alarm.limit,
      isLimitLogged: alarm.isLimitLogged,
      class: alarm.alarmClass,
      rule: alarm.rule,
      why: alarm.why,
      crossing: at(alarm.crossing),
      back: at(alarm.back),
      acknowledged: at(alarm.acknowledged),
      ended: at(alarm.ended),
      priority: alarm.priority,
      isRepeat: isRepeat[i],
      unitFlood: floodAt(unitFloods, alarm.onset),
      patientFlood: floodAt(own, alarm.onset),
    }));
  });
}

const alarmTable = (input: UnitAuditInput, nameOf: NameOf): TidyTable => ({
  name: 'alarms',
  says: 'A row an alarm of ICP or CPP that was judged',
  columns: [
    PATIENT,
    ONSET,
    ...CLOCK,
    CHANNEL,
    text('side', 'above or below: the side of the limit on which it is raised'),
    mmHg('limitMmHg', 'Limit of the alarm'),
    text('isLimitLogged', 'false where the log gives none, so that the one of the pipeline file was taken'),
    text('class', 'What it turned out to be'),
    text('rule', 'Cleaning rule that took it, of artifacts and of what is suspect'),
    text('why', 'Why one cannot tell; blank where one can'),
    localTime('crossing', 'When the cleaned signal passed the limit; blank where it did not'),
    localTime('back', 'When it was back for good, or no longer known'),
    localTime('acknowledged', 'When somebody acknowledged it; blank where the log does not say'),
    localTime('ended', 'When the alarm condition ended; blank where the log does not say'),
    text('priority', 'As the log gives it'),
    text('isRepeat', 'true within 2 min behind another of the same patient, channel, side and limit'),
    text('unitFlood', 'Number of the flood over all patients that it is of; blank where of none'),
    text('patientFlood', 'Number of the flood of its patient that it is of; blank where of none'),
  ],
  rows: alarmRows(input, nameOf),
});

const unjudgedTable = ({ patients, clock }: UnitAuditInput, nameOf: NameOf): TidyTable => ({
  name: 'unjudged',
  says: 'A row an alarm of the log that was not judged',
  columns: [
    PATIENT,
    ONSET,
    text('parameter', 'As the log names it'),
    text(
      'why',
      'otherChannel: not audited; unknownParameter: no channel that is known; outside: no recording of the patient reaches it; notInPeriod: the report is over another time',
    ),
  ],
  rows: patients.flatMap(({ id, unjudged }) =>
    unjudged.map(({ onset, parameter, why }) => ({
      patient: nameOf(id),
      onset: clock.format(onset),
      parameter,
      why,
    })),
  ),
});

const timeCells = (name: string, time: TimeTo | null): Record<string, Cell> => ({
  [`${name}Minutes`]: time?.minutes,
  [`${name}Outcome`]: time?.outcome,
});

const episodeCells = (one: AuditedEpisode, { clock }: UnitAuditInput): Record<string, Cell> => {
  const treated = treatedAfter(one);
  return {
    start: clock.format(one.episode.start),
    end: clock.format(one.episode.end),
    minutes: (one.episode.end - one.episode.start) / MINUTE_MS,
    openStart: one.episode.openStart,
    openEnd: one.episode.openEnd,
    extremeMmHg: one.extremeMmHg,
    doseMmHgHours: one.doseMmHgHours,
    notice: one.notice,
    alarmAfterMinutes: one.alarmAfterMinutes,
    hadAlarm: one.hadAlarm,
    from: clock.format(one.from),
    ...timeCells('acknowledged', one.acknowledged),
    ...timeCells('treated', one.treated),
    treatedAfterMinutes: treated.is === 'given' ? treated.afterMinutes : null,
    ...timeCells('resolved', one.resolved),
  };
};

const outcome = (name: string, of: string): TidyColumn =>
  text(name, `How that clock stopped (happened, resolved, died, cut); blank where ${of}`);

const episodeTable = (input: UnitAuditInput, nameOf: NameOf): TidyTable => ({
  name: 'episodes',
  says: 'A row a sustained episode of ICP or CPP by the rule of the unit, and how it was answered',
  columns: [
    PATIENT,
    CHANNEL,
    START,
    END,
    minutes('minutes', 'From the first crossing to the last'),
    text('openStart', 'true where missing data cut its start'),
    text('openEnd', 'true where missing data cut its end'),
    mmHg('extremeMmHg', 'Of ICP the highest sample, of CPP the lowest'),
    {
      name: 'doseMmHgHours',
      unit: 'mm[Hg].h',
      says: 'Of ICP the area above its threshold, of CPP the area below',
    },
    text(
      'notice',
      'inTime, late or none: how an alarm told of it; notCovered: the alarm log does not reach it',
    ),
    minutes('alarmAfterMinutes', 'From the crossing to the first alarm; blank where none came'),
    text('hadAlarm', 'true where an alarm belongs to it'),
    localTime('from', 'What the clocks of answering start at: the first alarm, else the crossing'),
    minutes('acknowledgedMinutes', 'From there to the acknowledgement, or to what stopped that clock'),
    outcome('acknowledgedOutcome', 'the log tells no acknowledgements'),
    minutes('treatedMinutes', 'From there to the first treatment, or to what stopped that clock'),
    outcome('treatedOutcome', 'no care log was given'),
    minutes('treatedAfterMinutes', 'From the crossing to that treatment; blank where none was given'),
    minutes(
      'resolvedMinutes',
      'From when the rule was met to the first 5 min without it, or to what stopped that clock',
    ),
    outcome('resolvedOutcome', 'never'),
  ],
  rows: input.patients.flatMap(({ id, episodes }) =>
    episodes.map((one) => ({ patient: nameOf(id), channel: one.channel, ...episodeCells(one, input) })),
  ),
});

/** Alarms of a channel that came on in a stretch. */
const alarmsIn = ({ alarms }: PatientAudit, channel: string, { start, end }: Interval): number =>
  alarms.filter((alarm) => alarm.channel === channel && alarm.onset >= start && alarm.onset < end).length;

function hourTable(input: UnitAuditInput, nameOf: NameOf): TidyTable {
  const { patients, alarmsCover, clock } = input;
  return {
    name: 'hours',
    says: 'A row a patient and hour of the clock on the wall: monitored time, and alarms that were judged',
    columns: [
      PATIENT,
      START,
      END,
      ...CLOCK,
      text('isCovered', 'true where the alarm log reaches it'),
      hours('icpMonitoredHours', 'ICP known, as exported'),
      hours('cppMonitoredHours', 'CPP known, as exported'),
      { name: 'icpAlarms', unit: '{alarms}', says: 'Alarms of ICP that came on in it' },
      { name: 'cppAlarms', unit: '{alarms}', says: 'Alarms of CPP that came on in it' },
    ],
    rows: patients.flatMap((patient) => {
      const covered = new Set(coveredHours(patient.hours, alarmsCover));
      return patient.hours.map((hour) => ({
        patient: nameOf(patient.id),
        start: clock.format(hour.start),
        end: clock.format(hour.end),
        ...clockCells(hour.start, input),
        isCovered: covered.has(hour),
        icpMonitoredHours: hour.icpMs / HOUR_MS,
        cppMonitoredHours: hour.cppMs / HOUR_MS,
        icpAlarms: alarmsIn(patient, 'icp', hour),
        cppAlarms: alarmsIn(patient, 'cpp', hour),
      }));
    }),
  };
}

const channelTable = ({ patients, clock }: UnitAuditInput, nameOf: NameOf): TidyTable => ({
  name: 'monitored',
  says: 'A row a patient and channel: how long it was monitored, and what that can tell',
  columns: [
    PATIENT,
    CHANNEL,
    START,
    END,
    { name: 'intervalSeconds', unit: 's', says: 'Between samples; blank where there are none' },
    hours('rawHours', 'Known, as exported'),
    hours('cleanedHours', 'Known after cleaning'),
    text('episodesReason', 'Why no sustained episode can be told; blank where one can'),
    { name: 'undetermined', unit: '{stretches}', says: 'Cut off by missing data and too short to tell' },
  ],
  rows: patients.flatMap(({ id, extent, channels }) =>
    AUDIT_CHANNELS.map((channel) => ({
      patient: nameOf(id),
      channel,
      start: clock.format(extent.start),
      end: clock.format(extent.end),
      ...channels[channel],
    })),
  ),
});

function lagTable({ patients }: UnitAuditInput): TidyTable {
  const lags = joinLags(patients);
  return {
    name: 'lags',
    says: 'A row a second: pairs of an alarm and a crossing of its own limit, of all patients, for their clocks',
    columns: [
      {
        name: 'lagSeconds',
        unit: 's',
        says: 'Onset of the alarm minus crossing; seconds without a pair have no row',
      },
      { name: 'pairs', unit: '{pairs}', says: 'So many came so long after the crossing' },
    ],
    rows:
      lags === null
        ? []
        : Array.from(lags.counts, (pairs, i) => ({ lagSeconds: i - lags.reachSeconds, pairs })).filter(
            ({ pairs }) => pairs > 0,
          ),
  };
}

/**
 * The tables that the figures on alarms can be counted from.
 *
 * @param nameOf the name under which a patient goes out; its own number where nothing is said
 */
export const auditAlarmTables = (input: UnitAuditInput, nameOf: NameOf = (id) => id): TidyTable[] => [
  alarmTable(input, nameOf),
  unjudgedTable(input, nameOf),
  episodeTable(input, nameOf),
  hourTable(input, nameOf),
  channelTable(input, nameOf),
  lagTable(input),
];
