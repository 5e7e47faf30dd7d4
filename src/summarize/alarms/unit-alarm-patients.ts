import type { UnitAuditInput } from './audit-settings.js';
import { alarmsOf, coveredHours, monitoredDays } from './monitored-days.js';
import { AUDIT_CHANNELS, type AuditChannel } from './patient-audit.js';

/** What the alarms of one channel of a patient were. */
export interface PatientAlarms {
  readonly channel: AuditChannel;
  readonly alarms: number;
  readonly sustained: number;
  readonly artifact: number;
  /** As exported, while the alarm log reaches. */
  readonly monitoredDays: number;
  readonly episodes: number;
  /** Of them, those that the alarm log reaches and of which no alarm told. */
  readonly episodesWithoutAlarm: number;
}

/** A row a patient and channel, in the order of patients. */
export const unitAlarmPatients = ({
  patients,
  alarmsCover,
}: UnitAuditInput): (PatientAlarms & { readonly patient: string })[] =>
  patients.flatMap((patient) =>
    AUDIT_CHANNELS.map((channel) => {
      const alarms = alarmsOf(patient, channel);
      const episodes = patient.episodes.filter((episode) => episode.channel === channel);
      return {
        patient: patient.id,
        channel,
        alarms: alarms.length,
        sustained: alarms.filter(({ alarmClass }) => alarmClass === 'sustained').length,
        artifact: alarms.filter(({ alarmClass }) => alarmClass === 'artifact').length,
        monitoredDays: monitoredDays(coveredHours(patient.hours, alarmsCover), channel),
        episodes: episodes.length,
        episodesWithoutAlarm: episodes.filter(({ notice }) => notice === 'none').length,
      };
    }),
  );
