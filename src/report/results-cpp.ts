import { z } from 'zod';
import { figure, reason, time } from './results-figures.js';

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

/** What a recording has of CPP beside its figures. */
export const ofCpp = { levelling };
