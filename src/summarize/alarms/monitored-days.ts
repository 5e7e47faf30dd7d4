import type { Interval } from '../../recording/interval.js';
import type { AuditChannel, MonitoredHour, PatientAudit } from './patient-audit.js';

const DAY_MS = 86_400_000;

/** How long a channel was monitored in an hour, as exported, milliseconds. */
export const monitoredMs = (hour: MonitoredHour, channel: AuditChannel): number =>
  channel === 'icp' ? hour.icpMs : hour.cppMs;

/** The hours of a patient that the alarm log reaches; none where there is no log. */
export const coveredHours = (hours: readonly MonitoredHour[], cover: Interval | null): MonitoredHour[] =>
  cover === null ? [] : hours.filter(({ start }) => start >= cover.start && start < cover.end);

/** Days over which a channel was monitored in so many hours, as exported. */
export const monitoredDays = (hours: readonly MonitoredHour[], channel: AuditChannel): number =>
  hours.reduce((sum, hour) => sum + monitoredMs(hour, channel), 0) / DAY_MS;

/** The alarms of one channel of a patient, by onset. */
export const alarmsOf = ({ alarms }: PatientAudit, channel: AuditChannel): PatientAudit['alarms'] =>
  alarms.filter((alarm) => alarm.channel === channel);
