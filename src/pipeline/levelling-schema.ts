import { z } from 'zod';
import { Problem } from '../recording/problem.js';
import type { Levelling } from '../summarize/levelling.js';

/** Longer than any distance in a body; a length in mm or inches is meant, or a slip. */
const LONGEST_CM = 100;

const cm = (low: number): z.ZodNumber =>
  z
    .number({ error: 'expected a length in cm' })
    .min(low, { error: `expected a length in cm, ${low} to ${LONGEST_CM}` })
    .max(LONGEST_CM, { error: `expected a length in cm, ${low} to ${LONGEST_CM}` });

/** Where the arterial line was zeroed, and how high the ear lies above it. */
export const levellingSchema = z
  .strictObject(
    {
      zeroedAt: z
        .enum(['heart', 'ear'], { error: 'expected heart or ear' })
        .describe('Where the arterial line was zeroed; ear: no correction is needed'),
      verticalCm: cm(-LONGEST_CM)
        .optional()
        .describe('How far the ear lies above the heart, where it was measured'),
      heartToEarCm: cm(1)
        .optional()
        .describe('From heart to ear along the body; the angle makes the height of it'),
      headOfBedDegrees: z
        .number({ error: 'expected an angle in degrees' })
        .min(0, { error: 'expected an angle of 0 to 90 degrees' })
        .max(90, { error: 'expected an angle of 0 to 90 degrees' })
        .optional()
        .describe('Throughout, or before the first entry of the care log'),
      headOfBed: z
        .literal('careLog', { error: 'expected careLog' })
        .optional()
        .describe('The angle is that of the care log'),
    },
    {
      error: ({ code }) =>
        code === 'invalid_type'
          ? 'expected zeroedAt with verticalCm or heartToEarCm, as {zeroedAt: heart, verticalCm: 20}'
          : undefined,
    },
  )
  .describe('MAP to ear level for CPP; off where it is left out');

/**
 * What a pipeline file says of levelling, where it is enough and says one thing.
 *
 * @throws Problem where it is not
 */
export function levellingOf(given: Levelling | undefined, hasCareLog: boolean): Levelling | undefined {
  if (given === undefined) return undefined;
  const { zeroedAt, verticalCm, heartToEarCm, headOfBedDegrees, headOfBed } = given;
  const hasAngle = headOfBedDegrees !== undefined || headOfBed !== undefined;
  if (zeroedAt === 'ear') {
    if (verticalCm === undefined && heartToEarCm === undefined && !hasAngle) return given;
    throw new Problem(
      'levelling: a line that was zeroed at the ear needs no height and no angle',
      'Take them out, or say zeroedAt: heart.',
    );
  }
  if (verticalCm !== undefined) {
    if (heartToEarCm === undefined && !hasAngle) return given;
    throw new Problem(
      'levelling: verticalCm is the height itself, and heartToEarCm with the angle of the head of the bed makes it once more',
      'Give one of the two.',
    );
  }
  if (heartToEarCm === undefined) {
    throw new Problem(
      'levelling: how far the ear lies above the heart is not given',
      'Give verticalCm, or heartToEarCm with headOfBedDegrees or headOfBed: careLog.',
    );
  }
  if (!hasAngle) {
    throw new Problem(
      'levelling: heartToEarCm needs the angle of the head of the bed',
      'Give headOfBedDegrees, or headOfBed: careLog where a care log has it.',
    );
  }
  if (headOfBed === 'careLog' && !hasCareLog) {
    throw new Problem(
      'levelling: headOfBed asks the care log for the angle, and no care log is given',
      'Name it as care: FILE, or give headOfBedDegrees alone.',
    );
  }
  return given;
}
