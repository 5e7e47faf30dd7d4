import { z } from 'zod';
import { TIME_MEASURES } from '../summarize/alarms/time-measures.js';
import { VIEW_KINDS } from '../summarize/alarms/time-views.js';
import { count, figure, reason, time } from './results-figures.js';

const beyond = z
  .enum(['above', 'below'])
  .nullable()
  .describe('Beyond which limit; null where not, or nothing can be told');

const limited = z.strictObject({
  start: time.describe('Of the point'),
  lower: figure,
  upper: figure,
  beyond,
  plainLower: figure.describe('As if each one counted were independent; null of single values'),
  plainUpper: figure,
  plainBeyond: beyond,
});

const run = z.strictObject({
  centreLine: figure,
  centreLineReason: reason,
  useful: count.describe('Points that are not on the median'),
  longest: z
    .strictObject({ points: count, side: z.enum(['over', 'under']), start: time, end: time })
    .nullable()
    .describe('The longest row of points on one side of the median'),
  mostInRun: count.nullable().describe('A longer row is a signal'),
  crossings: count,
  fewestCrossings: count.nullable().describe('Fewer crossings are a signal'),
  hasSignal: z.boolean().nullable().describe('Null where nothing can be told'),
  reason: z.string().nullable(),
});

const view = z.strictObject({
  kind: z
    .enum(VIEW_KINDS)
    .describe(
      'baseline: points wholly before the change; carried: points after it by the median and limits of those before; rebased: points after it by their own',
    ),
  points: count.describe('With a value, also where that is masked'),
  baselinePoints: count.describe('That the median and the limits come from'),
  run,
  limits: z.array(limited),
  limitsReason: z.string().nullable().describe('Why there are none'),
  runSays: z.string(),
  limitsSay: z.string(),
});

const measure = z.strictObject({
  measure: z.enum(TIME_MEASURES),
  unit: z.string().describe('UCUM'),
  reason: z.string().nullable().describe('Why nothing can be told'),
  points: z.array(
    z.strictObject({
      start: time,
      count: count.nullable(),
      size: figure.describe('What it is counted on: patient-days, alarms, episodes'),
      value: figure,
      valueReason: reason,
    }),
  ),
  leftOut: count.describe('Points without a value'),
  views: z.array(view),
});

/** Alarms and answers over time. */
export const auditTime = z.strictObject({
  maskedBelow: count.nullable().describe('Counts from 1 to under it are null, with what rests on them'),
  per: z.enum(['week', 'month']),
  changed: z.strictObject({ at: time, what: z.string() }).nullable(),
  points: z.array(
    z.strictObject({
      name: z.string().describe('ISO 8601: 2031-W07 or 2031-02'),
      start: time,
      end: time,
      part: z.enum(['all', 'before', 'across', 'after']).describe('Where it stands to the change'),
    }),
  ),
  measures: z.array(measure),
});

export type AuditTime = z.infer<typeof auditTime>;
export type MeasureResult = AuditTime['measures'][number];
export type ViewResult = MeasureResult['views'][number];
