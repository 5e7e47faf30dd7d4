import { z } from 'zod';
import { estimate } from './results-estimate.js';
import { count, figures, reason, time } from './results-figures.js';

/** A count that may be masked. */
const shown = count.nullable();

const setting = { limitMmHg: z.number(), delaySeconds: z.number() };

const cell = z.strictObject({
  ...setting,
  alarms: shown,
  alarmsReason: reason,
  sustainedAlarms: shown.describe('Alarms that were on in a sustained episode'),
  sustainedAlarmsReason: reason,
  episodesCaught: shown,
  episodesCaughtReason: reason,
  longMissed: shown.describe('Missed episodes of longMinutes or more'),
  longMissedReason: reason,
  ...figures(['alarmsPerDay', 'sustainedShare', 'caughtShare', 'medianNoticeMinutes', 'medianDoseMmHgHours'])
    .shape,
});

const rated = z.strictObject({
  ...setting,
  alarmsPerDay: estimate.describe('A monitored patient-day; interval over patients'),
  caughtShare: estimate.describe('Of the sustained episodes; interval over patients'),
});

const chosen = z
  .strictObject(setting)
  .nullable()
  .describe('One of the choices; null where none is such a one');

/** What other limits and delays would have made of the same ICP; all on past data. */
export const auditWhatIf = z.strictObject({
  limitsMmHg: z.array(z.number()),
  delaysSeconds: z.array(z.number()),
  resetSeconds: z.number().describe('Back for so long before another alarm can be raised'),
  longMinutes: z.number(),
  patients: shown.describe('Whose ICP was replayed'),
  patientsReason: reason,
  notReplayed: shown.describe('Patients whose samples are too coarse for it'),
  notReplayedReason: reason,
  monitoredDays: z.number().describe('Of ICP, as exported, of the patients who were replayed'),
  episodes: shown.describe('Sustained, of ICP without what was removed'),
  episodesReason: reason,
  longEpisodes: shown,
  longEpisodesReason: reason,
  raw: z.array(cell).describe('ICP as exported: what a monitor sees; a limit behind the other'),
  cleaned: z.array(cell).describe('ICP without what was removed: what no monitor sees'),
  present: z
    .strictObject({ ...setting, isTried: z.boolean() })
    .nullable()
    .describe('How the monitors are set, as the pipeline file says; null where it says nothing'),
  presentRated: rated.nullable().describe('The same on ICP as exported; null where it was not tried'),
  choices: z
    .array(rated)
    .describe(
      'On ICP as exported, by alarms: no other setting has as few alarms, as many episodes caught and as short a median time to the notice, and is better in one; those that catch nothing are left out',
    ),
  againstPresent: z
    .strictObject({ fewestAlarms: chosen, mostCaught: chosen, shortestNotice: chosen })
    .nullable()
    .describe(
      'Fewest alarms with as many episodes caught; most caught with no more alarms; shortest median time to the notice with neither worse',
    ),
  missedLong: z
    .array(
      z.strictObject({
        patient: z.string(),
        start: time,
        end: time,
        minutes: z.number(),
        missedFrom: z
          .array(z.strictObject(setting))
          .describe('The limits that miss it, and the shortest delay with which they do'),
      }),
    )
    .nullable()
    .describe('Episodes of longMinutes or more that some setting misses on ICP as exported'),
  missedLongReason: reason,
});

export type AuditWhatIf = z.infer<typeof auditWhatIf>;
export type WhatIfCellResult = AuditWhatIf['raw'][number];
export type RatedResult = AuditWhatIf['choices'][number];
