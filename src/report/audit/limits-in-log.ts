import type { UnitAuditInput } from '../../summarize/alarms/audit-settings.js';
import type { AuditResult } from '../results-audit.js';

/** Which limits the ICP alarms of the log were about: what the monitors were set to in their time. */
export function limitsInLog({ patients }: UnitAuditInput): AuditResult['limitsInLog'] {
  const counts = new Map<number, number>();
  for (const { channel, side, limit, isLimitLogged } of patients.flatMap(({ alarms }) => alarms)) {
    if (channel !== 'icp' || side !== 'above' || limit === null || !isLimitLogged) continue;
    counts.set(limit, (counts.get(limit) ?? 0) + 1);
  }
  return [...counts]
    .map(([limitMmHg, alarms]) => ({ limitMmHg, alarms }))
    .sort((a, b) => b.alarms - a.alarms || a.limitMmHg - b.limitMmHg);
}
