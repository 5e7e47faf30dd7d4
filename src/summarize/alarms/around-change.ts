import type { UnitAuditInput } from './audit-settings.js';

/** The same unit as far as something began in a stretch of time, from its start on and before its end. */
function within(input: UnitAuditInput, start: number, end: number): UnitAuditInput {
  const isIn = (t: number): boolean => t >= start && t < end;
  return {
    ...input,
    patients: input.patients.map((patient) => ({
      ...patient,
      alarms: patient.alarms.filter(({ onset }) => isIn(onset)),
      episodes: patient.episodes.filter(({ episode }) => isIn(episode.start)),
      hours: patient.hours.filter((hour) => isIn(hour.start)),
    })),
  };
}

/** The unit before a marked change and from then on; null where none is marked, or one side has no data. */
export function aroundChange(
  input: UnitAuditInput,
): { readonly before: UnitAuditInput; readonly after: UnitAuditInput } | null {
  const { changed } = input.settings;
  if (changed === null) return null;
  const before = within(input, Number.NEGATIVE_INFINITY, changed.atMs);
  const after = within(input, changed.atMs, Number.POSITIVE_INFINITY);
  const isEmpty = ({ patients }: UnitAuditInput): boolean =>
    patients.every(({ hours }) => hours.length === 0);
  return isEmpty(before) || isEmpty(after) ? null : { before, after };
}
