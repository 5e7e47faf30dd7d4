import { z } from 'zod';
import { CHANNEL_NAMES, type ChannelKind } from '../recording/channel.js';

/** Local time with offset, to the second. */
export const time = z.string().describe('YYYY-MM-DDTHH:MM:SS±hh:mm');
export const figure = z.number().nullable();
export const reason = z.string().optional().describe('Why the figure beside it is null');
export const count = z.number().int().nonnegative();

/** An object of figures, each with an optional sibling `<key>Reason`. */
export function figures<Key extends string>(
  keys: readonly Key[],
): z.ZodObject<Record<Key, typeof figure> & Record<`${Key}Reason`, typeof reason>> {
  const shape: Record<string, z.ZodType> = {};
  for (const key of keys) {
    shape[key] = figure;
    shape[`${key}Reason`] = reason;
  }
  return z.strictObject(shape) as never;
}

export const icpFigures = figures([
  'meanMmHg',
  'medianMmHg',
  'highest5MinMmHg',
  'hoursBelowBand',
  'hoursWithinBand',
  'hoursAboveBand',
  'hoursAboveThreshold',
  'doseMmHgHours',
]);

export const cppFigures = figures([
  'meanMmHg',
  'lowest5MinMmHg',
  'hoursBelowFloor',
  'doseBelowFloorMmHgHours',
]).extend({
  bands: z.array(z.strictObject({ fromMmHg: figure, toMmHg: figure, hours: figure })),
});

export const windowFigures = z.strictObject({
  start: time,
  end: time,
  monitoredHours: z.strictObject({ icp: z.number(), map: z.number(), cpp: z.number() }),
  icp: icpFigures,
  cpp: cppFigures,
  episodes: count.nullable(),
  longestEpisodeMinutes: figure,
});

export const channel = z.enum(Object.keys(CHANNEL_NAMES) as [ChannelKind, ...ChannelKind[]]);
export const grade = z.enum(['removed', 'suspect']);
export const decimals = count.describe('Decimals that a page shows: no more than the monitor wrote');

export const ruleFigures = z.strictObject({
  icpHoursAboveThreshold: z.number(),
  icpDoseMmHgHours: z.number(),
  cppHoursBelowFloor: z.number(),
  cppDoseBelowFloorMmHgHours: z.number(),
});
