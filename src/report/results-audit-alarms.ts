import { z } from 'zod';
import { ALARM_CLASSES } from '../summarize/alarms/judge.js';
import { AUDIT_CHANNELS } from '../summarize/alarms/patient-audit.js';
import { UNJUDGED } from '../summarize/alarms/unit-alarm-log.js';
import { NOTICES } from '../summarize/alarms/unit-unnoticed.js';
import { estimate } from './results-estimate.js';
import { count, figure, time } from './results-figures.js';

const shown = count.nullable().describe('Null where counts are not shown because they are small');
const channel = z.enum(AUDIT_CHANNELS);
const stretch = { start: time, end: time };

/** A share over patients, and as if each alarm stood alone. */
const share = z.strictObject({
  part: shown,
  whole: shown,
  byPatients: estimate.describe('95 % interval by the bootstrap over patients'),
  naive: estimate.describe('95 % interval by Wilson, as if each alarm stood alone'),
});

const bothWays = z.strictObject({
  ofAll: share,
  ofThoseTold: share.describe('Of the alarms of which one can tell: all but cannotTell'),
});

const times = {
  alarms: shown,
  monitoredDays: z.number().describe('Patient-days that were monitored in it while the log reaches'),
  perDay: estimate.describe('Alarms a monitored patient-day'),
};

const ofChannel = z.strictObject({
  channel,
  patients: shown.describe('Of whom the channel was monitored while the log reaches'),
  alarms: shown,
  limitsAssumed: shown.describe('Alarms whose log gives no limit'),
  limitMmHg: z.number().describe('What was taken for the limit of those'),
  monitoredDays: z.number().describe('Patient-days, as exported, while the log reaches'),
  perDay: estimate.describe('Alarms a monitored patient-day; 95 % interval by the bootstrap over patients'),
  classes: z.array(z.strictObject({ alarmClass: z.enum(ALARM_CLASSES), alarms: shown, share: figure })),
  rules: z
    .array(z.strictObject({ alarmClass: z.enum(['artifact', 'suspect']), rule: z.string(), alarms: shown }))
    .describe('Artifacts and what is suspect, by the cleaning rule that took them'),
  sustained: bothWays,
  sustainedOrCutShort: bothWays,
  repeats: shown.describe('Within 2 min behind another of the same patient, channel, side and limit'),
  repeatShare: figure,
  byHour: z
    .array(z.strictObject({ hour: count, isNight: z.boolean(), ...times }))
    .describe('By the hour of the clock on the wall in which they came on'),
  byWeekday: z.array(z.strictObject({ weekday: z.string(), ...times })).describe('Monday first'),
  notices: z.strictObject(Object.fromEntries(NOTICES.map((notice) => [notice, shown])) as Notices),
  episodes: shown.describe('Sustained episodes by the rule of the unit'),
  lateSeconds: z.number().describe('An alarm that comes so long after the crossing, or later, is late'),
});

type Notices = Record<(typeof NOTICES)[number], typeof shown>;

const flood = z.strictObject({ ...stretch, alarms: count });

const patient = z.strictObject({
  patient: z.string(),
  channel,
  alarms: count,
  sustained: count,
  artifact: count,
  monitoredDays: z.number(),
  episodes: count,
  episodesWithoutAlarm: count,
});

const unnoticed = z.strictObject({
  patient: z.string(),
  channel,
  notice: z.enum(['late', 'none']),
  ...stretch,
  minutes: z.number(),
  doseMmHgHours: z.number(),
  extremeMmHg: z.number().describe('Of ICP the highest sample, of CPP the lowest'),
  alarmAfterMinutes: figure.describe('From the crossing; null where no alarm came'),
  treated: z.enum(['given', 'none', 'unknown']).describe('unknown: no care log was given'),
  treatedAfterMinutes: figure.describe('From the crossing to the first treatment after the alarm'),
});

const pile = z.strictObject({
  offsetSeconds: z.number().describe('Median of onset minus crossing; what the monitor waits is in it'),
  share: z.number().describe('Pairs in it, as a share of the alarms compared'),
  chanceShare: z.number().describe('The same as chance alone would have it'),
});

const clockIs = z.enum(['tooFew', 'none', 'together', 'hours', 'apart', 'two']);

const clock = z
  .strictObject({
    is: clockIs,
    alarms: shown.describe('Alarms that were compared with crossings of their own limit'),
    reachSeconds: count.describe('Alarms were compared with crossings up to so long before and after'),
    piles: z.array(pile),
    shiftSeconds: figure.describe('What would correct it; null where nothing has to be, or nobody can tell'),
    sentence: z.string(),
    correction: z.string().describe('How to correct it; empty where nothing has to be'),
    minutes: z
      .array(z.strictObject({ fromSeconds: z.number().int(), pairs: count }))
      .describe('Pairs of an alarm and a crossing by onset minus crossing, a minute each'),
    patients: z
      .array(
        z.strictObject({
          patient: z.string(),
          is: clockIs,
          alarms: count,
          offsetsSeconds: z.array(z.number()),
        }),
      )
      .describe('Patients whose own alarms pile up elsewhere than those of the unit, or than as usual'),
  })
  .describe('Whether the clocks of the alarm log and of the exports are apart; never corrected by itself');

const log = z
  .strictObject({
    from: time.nullable(),
    to: time.nullable(),
    rowsRead: shown,
    setAside: z.array(z.strictObject({ kind: z.string(), reason: z.string(), rows: shown })),
    merged: shown.describe('Rows of an alarm that another file had told of'),
    withoutExport: shown.describe('Alarms of patients of whom there is no export'),
    judged: z.array(z.strictObject({ channel, alarms: shown })),
    unjudged: z.array(z.strictObject({ why: z.enum(UNJUDGED), parameter: z.string(), alarms: shown })),
    unaccounted: z.number().int().nullable().describe('Rows read less all of these; 0 where it adds up'),
  })
  .describe('Where each row of the alarm log went');

export const auditAlarms = z
  .strictObject({
    log: log.nullable().describe('Null where no alarm log was given'),
    channels: z.array(ofChannel),
    floods: z
      .strictObject({
        unitCount: shown,
        unitAlarms: shown.describe('Alarms in them'),
        patientCount: shown,
        patientAlarms: shown,
        unit: z.array(flood),
        patients: z.array(flood.extend({ patient: z.string() })),
      })
      .describe('10 alarms or more in 10 min: of the unit as a whole, and of one patient'),
    patients: z.array(patient),
    unnoticed: z.array(unnoticed).describe('Sustained episodes of which no alarm told, or a late one'),
    clock,
  })
  .describe('What the alarms of ICP and CPP were');

export type AuditAlarms = z.infer<typeof auditAlarms>;
