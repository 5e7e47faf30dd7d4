import { z } from 'zod';
import { CHANNEL_NAMES, type ChannelKind } from '../recording/channel.js';

/** Local time with offset, to the second. */
const time = z.string().describe('YYYY-MM-DDTHH:MM:SS±hh:mm');
const figure = z.number().nullable();
const reason = z.string().optional().describe('Why the figure beside it is null');
const count = z.number().int().nonnegative();

/** An object of figures, each with an optional sibling `<key>Reason`. */
function figures<Key extends string>(
  keys: readonly Key[],
): z.ZodObject<Record<Key, typeof figure> & Record<`${Key}Reason`, typeof reason>> {
  const shape: Record<string, z.ZodType> = {};
  for (const key of keys) {
    shape[key] = figure;
    shape[`${key}Reason`] = reason;
  }
  return z.strictObject(shape) as never;
}

const icpFigures = figures([
  'meanMmHg',
  'medianMmHg',
  'highest5MinMmHg',
  'hoursBelowBand',
  'hoursWithinBand',
  'hoursAboveBand',
  'hoursAboveThreshold',
  'doseMmHgHours',
]);

const cppFigures = figures([
  'meanMmHg',
  'lowest5MinMmHg',
  'hoursBelowFloor',
  'doseBelowFloorMmHgHours',
]).extend({
  bands: z.array(z.strictObject({ fromMmHg: figure, toMmHg: figure, hours: figure })),
});

const windowFigures = z.strictObject({
  start: time,
  end: time,
  monitoredHours: z.strictObject({ icp: z.number(), map: z.number(), cpp: z.number() }),
  icp: icpFigures,
  cpp: cppFigures,
  episodes: count.nullable(),
  longestEpisodeMinutes: figure,
});

const channel = z.enum(Object.keys(CHANNEL_NAMES) as [ChannelKind, ...ChannelKind[]]);
const grade = z.enum(['removed', 'suspect']);
const decimals = count.describe('Decimals that a page shows: no more than the monitor wrote');

const recording = z.strictObject({
  id: z.string(),
  page: z.string(),
  start: time,
  end: time,
  period: z
    .strictObject({ start: time, end: time })
    .describe("The unit's period, or the patient's own where all is reported"),
  sentence: z.string(),
  cannotSay: z.array(z.string()).describe('Why nobody can say how the patient was; empty where one can'),
  probeNote: z.string().nullable(),
  nominalIntervalSeconds: z.strictObject({ icp: figure, map: figure }),
  decimals: z.strictObject({ icp: decimals, map: decimals, cpp: decimals }),
  knownShare: z.number().describe('Of ICP after cleaning, over the period'),
  suspectHours: z.number(),
  monitoredHours: z.strictObject({ icp: z.number(), map: z.number(), cpp: z.number() }),
  icp: icpFigures,
  icpRaw: icpFigures,
  icpOtherWay: icpFigures
    .nullable()
    .describe('Suspect stretches taken the other way; null where there are none'),
  cpp: cppFigures,
  cppRaw: cppFigures,
  cppOtherWay: cppFigures.nullable(),
  hours: z.array(windowFigures),
  nights: z.array(windowFigures),
  nightBefore: windowFigures.nullable(),
  episodes: z.array(
    z.strictObject({
      channel: z.literal('icp'),
      start: time,
      end: time,
      minutes: z.number(),
      highestMmHg: z.number(),
      meanMmHg: z.number(),
      doseMmHgHours: z.number(),
      lowestCppMmHg: figure,
      lowestCppMmHgReason: reason,
      openStart: z.boolean(),
      openEnd: z.boolean(),
    }),
  ),
  episodesReason: z.string().nullable(),
  longestEpisodeMinutes: figure,
  undeterminedEpisodes: count,
  removed: z.array(
    z.strictObject({
      channel,
      rule: z.string(),
      start: time,
      end: time,
      grade,
      direction: z.enum(['down', 'up']).nullable(),
    }),
  ),
  suspect: z.array(
    z.strictObject({ start: time, end: time, rules: z.array(z.string()), direction: z.enum(['down', 'up']) }),
  ),
  largeExcursions: z.array(
    z.strictObject({
      start: time,
      end: time,
      rule: z.string(),
      highestMmHg: z.number(),
      riseMmHg: z.number(),
    }),
  ),
  cleaning: z.strictObject({
    takes: z.array(
      z.strictObject({
        channel,
        rule: z.string(),
        grade,
        staysIn: z.boolean(),
        intervals: count,
        hours: z.number(),
        shareOfPeriod: z.number(),
        without: z.strictObject({
          icpHoursAboveThreshold: z.number(),
          icpDoseMmHgHours: z.number(),
          cppHoursBelowFloor: z.number(),
          cppDoseBelowFloorMmHgHours: z.number(),
        }),
      }),
    ),
    channels: z.array(
      z.strictObject({
        channel,
        keptHours: z.number(),
        noDataHours: z.number(),
        keptShare: z.number(),
        noDataShare: z.number(),
      }),
    ),
    stoodAside: z.array(z.strictObject({ rule: z.string(), why: z.string() })),
  }),
  files: z.array(
    z.strictObject({
      file: z.string(),
      reading: z.strictObject({
        encoding: z.string(),
        delimiter: z.string(),
        decimal: z.string().nullable(),
        times: z.string().describe('How the times were read, and what decided it'),
      }),
      columns: z.array(z.strictObject({ header: z.string(), kind: channel, unit: z.string() })),
      leftAlone: z.array(z.strictObject({ header: z.string(), why: z.string() })),
    }),
  ),
  icpSource: z
    .enum(['probe', 'drain'])
    .nullable()
    .describe('Where ICP is measured, where the export says so'),
  mapDerivedFrom: z.string().nullable().describe('How MAP was computed where the export holds none'),
  readingWarnings: z.array(z.string()).describe('What to know of how the files were read'),
  counts: z.strictObject({ rowsRead: count, rowsUsed: count, rowsSetAside: count }),
});

/** The whole of results.json: every figure that a page shows, unrounded. */
export const resultsSchema = z.strictObject({
  schemaVersion: z.literal(1),
  pipeline: z.strictObject({ name: z.string(), title: z.string(), report: z.string() }),
  settings: z.record(z.string(), z.unknown()).describe('The effective values of the pipeline file'),
  period: z.strictObject({
    start: time,
    end: time,
    word: z.enum(['night', 'period']),
    timezone: z.string(),
    why: z.string(),
  }),
  unit: z.strictObject({
    sentence: z.string(),
    order: z.array(z.string()).describe('Patients as the unit page lists them'),
  }),
  recordings: z.array(recording),
  noData: z.array(z.strictObject({ id: z.string(), why: z.string() })),
  failed: z.array(z.strictObject({ id: z.string(), why: z.string(), rowsRead: count })),
  counts: z.strictObject({ rowsRead: count, rowsUsed: count, rowsSetAside: count }),
});

export type Results = z.infer<typeof resultsSchema>;
export type RecordingResult = Results['recordings'][number];
export type WindowResult = RecordingResult['hours'][number];
export type EpisodeResult = RecordingResult['episodes'][number];
