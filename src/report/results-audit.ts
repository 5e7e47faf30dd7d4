import { z } from 'zod';
import { auditAlarms } from './results-audit-alarms.js';
import { auditResponse } from './results-audit-response.js';
import { auditTime } from './results-audit-time.js';
import { auditWhatIf } from './results-audit-what-if.js';
import { estimate } from './results-estimate.js';
import { count, figure, reason, time } from './results-figures.js';

const rule = z.strictObject({ thresholdMmHg: z.number(), minSeconds: z.number() });

const side = z.strictObject({
  side: z.enum(['before', 'after']),
  channels: z.array(
    z.strictObject({
      channel: z.enum(['icp', 'cpp']),
      alarms: count,
      monitoredDays: z.number(),
      perDay: estimate,
      sustained: estimate.describe('Of the alarms of which one can tell'),
      sustainedOrCutShort: estimate,
      artifactShare: figure,
      episodes: count,
      withoutAlarm: count,
      withLateAlarm: count,
    }),
  ),
});

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
  sides: z
    .array(side)
    .describe('Before a marked change and from then on; none where none is marked, or counts are masked'),
  logHoles: z
    .array(z.strictObject({ start: time, end: time, days: count }))
    .describe('Days in a row on which patients were monitored and the alarm log has no row at all'),
  limitsInLog: z
    .array(z.strictObject({ limitMmHg: z.number(), alarms: count }))
    .describe('Limits of the ICP alarms of the log, the most first; none where counts are masked'),
  alarms: auditAlarms,
  response: auditResponse,
  time: auditTime,
  whatIf: auditWhatIf.nullable(),
  whatIfReason: reason,
});

export type AuditResult = z.infer<typeof audit>;
