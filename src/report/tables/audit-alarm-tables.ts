import type { UnitAuditInput } from '../../summarize/alarms/audit-settings.js';
import { type Flood, repeatsAmong } from '../../summarize/alarms/crowding.js';
import { unitCrowding } from '../../summarize/alarms/unit-alarm-crowding.js';
import { kindOf } from '../../summarize/alarms/unit-alarms.js';
import {
  CHANNEL,
  CLOCK,
  clockCells,
  localTime,
  mmHg,
  type NameOf,
  ONSET,
  text,
} from './audit-alarm-columns.js';
import { episodeTable } from './audit-episode-table.js';
import { channelTable, hourTable, lagTable } from './audit-time-tables.js';
import { PATIENT } from './columns.js';
import type { Cell } from './csv.js';
import type { TidyTable } from './tidy-table.js';

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
