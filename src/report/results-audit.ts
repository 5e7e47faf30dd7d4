import { z } from 'zod';
import { auditAlarms } from './results-audit-alarms.js';
import { auditResponse } from './results-audit-response.js';
import { auditTime } from './results-audit-time.js';
import { auditWhatIf } from './results-audit-what-if.js';
import { count, reason } from './results-figures.js';

const rule = z.strictObject({ thresholdMmHg: z.number(), minSeconds: z.number() });

/** The alarm audit of a unit: what its page shows. */
export const audit = z.strictObject({
  sentence: z.string(),
  patientsAs: z.enum(['pseudonyms', 'numbers']).describe('What patients appear under'),
  maskBelow: count.nullable().describe('Counts under it are null; null where all are shown'),
  rules: z.strictObject({ icp: rule, cpp: rule }).describe('What the unit calls sustained'),
  missing: z.array(z.string()).describe('What was not given, and what cannot be said for want of it'),
  movedSeconds: z
    .strictObject({ alarms: z.number(), care: z.number() })
    .describe('What was added to all times of a log, as the pipeline file says; 0 where nothing was'),
  notRead: count.describe('Patients whose exports could not be read'),
  alarms: auditAlarms,
  response: auditResponse,
  time: auditTime,
  whatIf: auditWhatIf.nullable(),
  whatIfReason: reason,
});

export type AuditResult = z.infer<typeof audit>;
