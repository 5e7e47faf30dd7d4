import { z } from 'zod';
import { AUDIT_CHANNELS } from '../summarize/alarms/patient-audit.js';
import { PERIOD_KINDS } from '../summarize/alarms/response-periods.js';
import { CLOCKS } from '../summarize/alarms/response-times.js';
import { estimate } from './results-estimate.js';
import { count, time } from './results-figures.js';

/** A count; null where it is masked. */
const masked = count.nullable();

const share = z.strictObject({
  minutes: z.number(),
  happened: masked.describe('Episodes to which it is known to have happened within so long'),
  share: estimate.describe('The interval resamples patients'),
  naive: estimate.describe('The interval of so many independent episodes, which is too narrow'),
  naiveMethod: z
    .enum(['wilson', 'logLog'])
    .describe(
      "Wilson's where no episode was cut off before that time, else the log(-log) bounds of the curve",
    ),
});

const period = z.strictObject({
  kind: z.enum(PERIOD_KINDS).describe('An episode belongs where it starts'),
  start: time,
  end: time,
  patients: masked,
  episodes: masked,
  happened: masked,
  resolvedFirst: masked,
  diedFirst: masked,
  cutOff: masked,
  withoutAlarm: masked.describe('Episodes without an alarm, whose clock starts at the crossing'),
  method: z
    .enum(['kaplanMeier', 'aalenJohansen'])
    .describe('Kaplan-Meier where nothing came before what is waited for'),
  medianMinutes: estimate.describe('The interval resamples patients'),
  shares: z.array(share),
});

const difference = z.strictObject({
  minutes: z.number(),
  patientsBefore: masked,
  patientsAfter: masked,
  patients: masked.describe('One with episodes on both sides counts once'),
  difference: estimate.describe(
    'Share within so long after the change minus that before; interval over patients',
  ),
  says: z.string(),
});

const curve = z.strictObject({
  isCoarse: z
    .boolean()
    .describe(
      'Masked: between the points the curve is not told, and of what came first only what is waited for',
    ),
  knownMinutes: z.number().describe('To where the shares are told'),
  points: z
    .array(
      z.strictObject({
        minutes: z.number(),
        happenedShare: z.number(),
        resolvedFirstShare: z.number().nullable(),
        diedFirstShare: z.number().nullable(),
        happened: count,
        resolvedFirst: masked,
        diedFirst: masked,
        cutOff: masked,
      }),
    )
    .describe('Cumulative incidences, each until the next point, and counts up to it'),
  atRisk: z.array(z.strictObject({ minutes: z.number(), episodes: masked, patients: masked })),
});

/** How fast sustained episodes were acknowledged, treated and over. */
export const auditResponse = z.strictObject({
  maskedBelow: count.nullable().describe('Counts from 1 to under it are null, with what rests on them'),
  resamples: count,
  clocks: z.array(
    z.strictObject({
      channel: z.enum(AUDIT_CHANNELS),
      clock: z.enum(CLOCKS),
      reason: z.string().nullable().describe('Why nothing can be told; null where something can'),
      notCovered: masked.describe('Episodes that the log of this clock does not reach'),
      periods: z.array(period),
      difference: difference.nullable().describe('Null where no change is marked'),
      curve: curve.nullable().describe('Over all episodes, up to an hour'),
    }),
  ),
  changed: z.strictObject({ at: time, what: z.string() }).nullable(),
  nightFrom: z.string().describe('HH:MM of the clock on the wall'),
  nightTo: z.string(),
});

export type AuditResponse = z.infer<typeof auditResponse>;
export type ClockResult = AuditResponse['clocks'][number];
export type PeriodResult = ClockResult['periods'][number];
export type CurveResult = NonNullable<ClockResult['curve']>;
