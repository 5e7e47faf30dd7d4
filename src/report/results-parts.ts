import { z } from 'zod';
import { count, decimals, figure, reason, time } from './results-figures.js';

export const log = z.strictObject({
  file: z.string(),
  kind: z.enum(['care', 'alarms', 'occupancy', 'cohort', 'overrides', 'targets']),
  rowsRead: count,
  rowsUsed: count,
  rowsUndecided: count.describe('Rows of a reviewed copy on which nobody decided'),
  rowsSetAside: count,
  warnings: z.array(z.string()).describe('What to know of how it was read'),
});

export const removal = z
  .strictObject({
    start: time,
    end: time,
    rules: z.array(z.string()),
    decidedBy: z.array(z.string()),
    baselineMmHg: z.number().describe('Median of what was kept in the 2 min before'),
    highestMmHg: z.number(),
    lowestMmHg: z.number(),
    riseMmHg: z.number().describe('From the baseline to the highest sample'),
    areaMmHgMinutes: z.number().describe('Between the signal as exported and the baseline'),
    logged: z.string().describe('Entry of the care log on which the rule itself rests; empty where none'),
    evidence: z
      .string()
      .describe('What speaks for it beside what the rules look for; empty where nothing does'),
  })
  .describe('A stretch of ICP that was removed, whichever rules took parts of it');

export const agreement = z.strictObject({
  firstHeader: z.string(),
  secondHeader: z.string(),
  decimals,
  meanDifferenceMmHg: z.number().describe('First minus second, of 1-min means'),
  sdMmHg: z.number(),
  lowerLimitMmHg: z.number(),
  upperLimitMmHg: z.number(),
  minutes: count.describe('In which both are known for half or more'),
  hours: z.array(
    z.strictObject({
      start: time,
      end: time,
      minutes: count,
      meanDifferenceMmHg: figure,
      meanDifferenceMmHgReason: reason,
    }),
  ),
  zeroMoves: z
    .array(z.strictObject({ start: time, end: time, beforeMmHg: z.number(), afterMmHg: z.number() }))
    .describe('Lasting changes of the difference, each somewhere between its two times'),
  zeroMovesReason: z.string().nullable().describe('Why none could be looked for; null where they could'),
  isOpeningKnown: z.boolean().describe('False where no care log tells when the drain was open'),
});

export const happened = { start: time, end: time.nullable() };

export const bedside = z
  .strictObject({
    alarms: z
      .array(
        z.strictObject({
          ...happened,
          acknowledged: time.nullable().describe('Null where the log does not say that anybody did'),
          text: z.string().describe('What it was about, such as "ICP above 22 mmHg"'),
        }),
      )
      .nullable()
      .describe('Null where no alarm log was given; end is null where the log gives none'),
    entries: z
      .array(
        z.strictObject({
          ...happened,
          isTreatment: z.boolean(),
          text: z.string().describe('As it was written, cut where it is long'),
        }),
      )
      .nullable()
      .describe('Of the care log; null where none was given; end is null where the log gives none'),
    drainOpen: z
      .array(z.strictObject(happened))
      .describe('From logged open to logged closed; end is null where the log never closes it'),
  })
  .describe(
    'What logs tell of the period, the 30 min before and after it and the time around its episodes, by start',
  );
