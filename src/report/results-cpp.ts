import { z } from 'zod';
import { count, figure, figures, reason, time } from './results-figures.js';

/** What MAP was taken down by before CPP was made from it. */
export const levelling = z
  .strictObject({
    zeroedAt: z
      .enum(['heart', 'ear'])
      .nullable()
      .describe('Where the arterial line was zeroed, as the pipeline file says; null where it says nothing'),
    note: z
      .string()
      .nullable()
      .describe('Stands wherever CPP does; null where MAP was not changed, or there is none'),
    asZeroedNote: z
      .string()
      .nullable()
      .describe('Said once on the page in detail where MAP was not changed; null where it was'),
    steps: z
      .array(
        z.strictObject({
          start: time,
          end: time,
          headOfBedDegrees: figure.describe('Null where the height was given, or the angle is not known'),
          verticalCm: figure.describe('How far the ear lies above the heart'),
          correctionMmHg: figure.describe('MAP at ear level is MAP minus this'),
          correctionMmHgReason: reason,
        }),
      )
      .describe('Over the period; none where MAP was not changed'),
    unknownHours: z.number().describe('Of the period, over which the correction and so CPP is not known'),
  })
  .describe('Levelling of MAP for CPP; MAP itself is reported as it was measured');

/** CPP below the target that was in force at each instant, over the period. */
export const lowCpp = z
  .strictObject({
    targets: z
      .array(
        z.strictObject({
          start: time,
          end: time,
          belowMmHg: z.number(),
          file: z
            .string()
            .nullable()
            .describe('Table that says it; null where the pipeline file or its preset does'),
          line: count.nullable(),
        }),
      )
      .describe('Which target was in force when'),
    ...figures(['hours', 'doseMmHgHours']).shape,
    episodes: z
      .array(
        z.strictObject({
          start: time,
          end: time,
          minutes: z.number(),
          lowestMmHg: z.number(),
          meanMmHg: z.number(),
          doseMmHgHours: z.number().describe('Below the target of each instant'),
          openStart: z.boolean(),
          openEnd: z.boolean(),
        }),
      )
      .describe('Those that share time with the period, each as a whole'),
    episodesReason: z.string().nullable().describe('Why none can be counted; null where they can'),
    undeterminedEpisodes: count.describe('Cut off by missing data and too short to tell'),
  })
  .describe('CPP below its target');

/** CPP as the monitor computed it, against MAP - ICP; differences are the monitor's own minus ours. */
export const ownCpp = z
  .strictObject({
    header: z.string(),
    minutes: count.describe('1-min means in which both are known for half or more'),
    ...figures(['meanDifferenceMmHg', 'sdMmHg', 'lowerLimitMmHg', 'upperLimitMmHg']).shape,
    levels: z
      .array(z.strictObject({ start: time, end: time, differenceMmHg: z.number(), isSteady: z.boolean() }))
      .describe('Stretches over which the difference keeps its level: median of their minutes'),
    isWithoutLevel: z
      .boolean()
      .describe('True where it is higher by just what MAP was taken down by: the monitor does not level'),
    sentence: z.string(),
  })
  .nullable()
  .describe('Null where the export holds no CPP; figures of CPP never come from it');

/** Whether the clocks of ICP and MAP may be apart. */
export const clockLag = z
  .strictObject({
    ...figures(['lagSeconds']).shape,
    correlation: figure.describe('Of slow fluctuations at that lag, of either sign'),
    isApart: z.boolean().describe('True where the lag is clear and more than physiology explains'),
    shiftedSeconds: z
      .strictObject({ icp: z.number(), map: z.number() })
      .describe('By how much times were moved to later ones before, as the pipeline file says'),
    sentence: z.string(),
  })
  .describe('Positive: what happens in ICP happens later in MAP');

/** What a recording has of CPP beside its figures. */
export const ofCpp = { levelling, lowCpp, ownCpp, clockLag };
