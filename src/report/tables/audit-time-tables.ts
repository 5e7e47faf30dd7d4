import { firstAfter } from '../../recording/search.js';
import type { UnitAuditInput } from '../../summarize/alarms/audit-settings.js';
import { coveredHours } from '../../summarize/alarms/monitored-days.js';
import {
  AUDIT_CHANNELS,
  type AuditChannel,
  type PatientAudit,
} from '../../summarize/alarms/patient-audit.js';
import { joinLags } from '../../summarize/alarms/unit-clocks.js';
import { CHANNEL, CLOCK, clockCells, hours, type NameOf, text } from './audit-alarm-columns.js';
import { END, PATIENT, START } from './columns.js';
import type { TidyTable } from './tidy-table.js';

const HOUR_MS = 3_600_000;

/** Alarms of a channel in each hour; one beside the recording counts in the hour next to it. */
function alarmsByHour({ alarms, hours: each }: PatientAudit, channel: AuditChannel): number[] {
  const counts = each.map(() => 0);
  const starts = each.map(({ start }) => start);
  for (const { channel: of, onset } of alarms) {
    if (of === channel && counts.length > 0) counts[Math.max(0, firstAfter(starts, onset) - 1)]++;
  }
  return counts;
}

/** Monitored time and alarms by patient and hour. */
export function hourTable(input: UnitAuditInput, nameOf: NameOf): TidyTable {
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
      {
        name: 'icpAlarms',
        unit: '{alarms}',
        says: 'Alarms of ICP that came on in it, or beside the recording next to it',
      },
      { name: 'cppAlarms', unit: '{alarms}', says: 'Likewise of CPP' },
    ],
    rows: patients.flatMap((patient) => {
      const covered = new Set(coveredHours(patient.hours, alarmsCover));
      const [ofIcp, ofCpp] = AUDIT_CHANNELS.map((channel) => alarmsByHour(patient, channel));
      return patient.hours.map((hour, i) => ({
        patient: nameOf(patient.id),
        start: clock.format(hour.start),
        end: clock.format(hour.end),
        ...clockCells(hour.start, input),
        isCovered: covered.has(hour),
        icpMonitoredHours: hour.icpMs / HOUR_MS,
        cppMonitoredHours: hour.cppMs / HOUR_MS,
        icpAlarms: ofIcp[i],
        cppAlarms: ofCpp[i],
      }));
    }),
  };
}

/** What each channel of a patient can tell. */
export const channelTable = ({ patients, clock }: UnitAuditInput, nameOf: NameOf): TidyTable => ({
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

/** How long after crossings alarms came, for their clocks. */
export function lagTable({ patients }: UnitAuditInput): TidyTable {
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
