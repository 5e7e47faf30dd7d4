import { z } from 'zod';
import { audit } from './results-audit.js';
import { ofCpp } from './results-cpp.js';
import {
  channel,
  count,
  cppFigures,
  decimals,
  figure,
  grade,
  icpFigures,
  reason,
  ruleFigures,
  time,
  windowFigures,
} from './results-figures.js';
import { agreement, bedside, log, removal } from './results-parts.js';
import { perfusion } from './results-perfusion.js';
import { study } from './results-study.js';

const recording = z.strictObject({
  id: z.string(),
  page: z
    .string()
    .nullable()
    .describe('File name of the page of the patient; null where no pages were written'),
  detailPage: z
    .string()
    .nullable()
    .describe('File name of the page with every episode and every removal; null likewise'),
  start: time,
  end: time,
  period: z
    .strictObject({ start: time, end: time })
    .describe("The unit's period, or the patient's own where all is reported"),
  sentence: z.string(),
  cannotSay: z.array(z.string()).describe('Why nobody can say how the patient was; empty where one can'),
  samplingNote: z
    .string()
    .nullable()
    .describe('What no rule could look for at this sampling; null where all could'),
  decisionNote: z
    .string()
    .nullable()
    .describe('Who decided, what that changed, and the figures by the rules alone; null where nobody did'),
  goingOnNote: z
    .string()
    .nullable()
    .describe(
      'Where ICP was still above its threshold when the period, or the data, ended; null where it was not',
    ),
  handover: z.array(z.string()).describe('The lines of the patient in handover.txt'),
  probeNote: z.string().nullable().describe('What may be the probe, in short; null where nothing is suspect'),
  nominalIntervalSeconds: z.strictObject({ icp: figure, map: figure }),
  decimals: z.strictObject({ icp: decimals, map: decimals, cpp: decimals }),
  knownShare: z.number().describe('Of ICP after cleaning, over the period'),
  suspectHours: z.number(),
  longestUnknown: z
    .strictObject({ start: time, end: time })
    .nullable()
    .describe(
      'Longest stretch of the period over which ICP is not known after cleaning; null where it is known throughout',
    ),
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
  days: z.array(windowFigures).describe('Days of the calendar; none where the period is of two days or less'),
  nights: z.array(windowFigures),
  nightBefore: windowFigures.nullable(),
  perfusion,
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
      evidence: z
        .string()
        .describe('What speaks for it beside its shape, in words; empty where nothing does'),
      decidedBy: z.string().nullable().describe('Who decided it, where a person and no rule did'),
    }),
  ),
  decisions: z
    .array(
      z.strictObject({
        channel,
        decision: z.enum(['keep', 'remove', 'suspect']),
        start: time,
        end: time,
        direction: z.enum(['down', 'up']).nullable(),
        reviewer: z.string(),
        rules: z.array(z.string()).describe('Rules that had marked something of it'),
      }),
    )
    .describe('What a person decided on stretches of the period; it wins over all rules'),
  suspect: z
    .array(
      z.strictObject({
        start: time,
        end: time,
        rules: z.array(z.string()),
        decidedBy: z.array(z.string()),
        direction: z.enum(['down', 'up']).describe('down is left out of the headline figures, up stays in'),
        seen: z.string().describe('What was seen, in words'),
        checkFirst: z.string().describe('What is usually checked first, as local protocol says'),
      }),
    )
    .describe('Stretches of ICP that may be the probe and not the patient'),
  largestRemovals: z.array(removal).describe('The ten of the largest area, the largest first'),
  largeExcursions: z.array(removal).describe('All that rose by 40 mmHg or more, by time'),
  cleaning: z.strictObject({
    isOff: z.boolean().describe('True where no rule was on and nobody decided anything'),
    takes: z.array(
      z.strictObject({
        channel,
        rule: z.string(),
        grade,
        staysIn: z.boolean(),
        intervals: count,
        hours: z.number(),
        shareOfPeriod: z.number(),
        without: ruleFigures,
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
    withoutDecisions: ruleFigures
      .nullable()
      .describe('Headline figures as the rules alone would have them; null where nobody decided anything'),
    decisionEffect: z
      .strictObject({
        icpOutHours: z.number().describe('Known by the rules alone, and not as decided'),
        icpInHours: z.number().describe('Known as decided, and not by the rules alone'),
        mapOutHours: z.number(),
        mapInHours: z.number(),
        knownShareByRules: z.number(),
        suspectHoursByRules: z.number(),
        cannotSayByRules: z.array(z.enum(['littleKnown', 'longSuspect'])),
      })
      .nullable()
      .describe('What decisions changed against the rules alone; null where nobody decided anything'),
    stoodAside: z.array(z.strictObject({ rule: z.string(), why: z.string() })),
  }),
  agreement: agreement
    .nullable()
    .describe('Of ICP through a probe and through a drain; null where only one is there'),
  agreementReason: reason,
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
  careEntries: count.nullable().describe('Entries of care logs about the patient; null where none was given'),
  careEntriesInside: count.nullable().describe('Those that share time with the recording'),
  careTimes: z
    .strictObject({ start: time, end: time })
    .nullable()
    .describe('Start of the first and of the last'),
  careEntriesNotUnderstood: count.nullable().describe('Those that no rule uses; null where no log was given'),
  careNotUnderstood: z
    .array(z.strictObject({ start: time, text: z.string() }))
    .describe('Up to three of them, first those that share time with the recording'),
  bedside,
  ...ofCpp,
  readingWarnings: z.array(z.string()).describe('What to know of how the files were read'),
  counts: z.strictObject({ rowsRead: count, rowsUsed: count, rowsSetAside: count }),
});

/** The whole of results.json: every figure that a page shows, unrounded. */
export const resultsSchema = z.strictObject({
  schemaVersion: z.literal(1),
  pipeline: z.strictObject({ name: z.string(), title: z.string(), report: z.string() }),
  settings: z.record(z.string(), z.unknown()).describe('The effective values of the pipeline file'),
  cleaningNote: z
    .string()
    .nullable()
    .describe('Where cleaning is not the usual one: rules that are off or changed; null where it is'),
  period: z
    .strictObject({
      start: time,
      end: time,
      word: z.enum(['night', 'period']),
      timezone: z.string(),
      why: z.string(),
    })
    .nullable()
    .describe('Null in a study, which has windows of its own: its ends would be dates of single patients'),
  unit: z.strictObject({
    sentence: z.string(),
    samplingNote: z
      .string()
      .nullable()
      .describe('Who was sampled too coarsely for some rule; null where nobody was'),
    levellingNote: z
      .string()
      .nullable()
      .describe('That MAP was taken to ear level for CPP; null where it was not'),
    order: z.array(z.string()).describe('Patients as the unit page lists them'),
  }),
  recordings: z
    .array(recording)
    .describe('None in an alarm audit and a study, in which patients are not told one by one'),
  audit: audit.optional().describe('Of an alarm audit alone'),
  study: study.optional().describe('Of an outcome study alone'),
  logs: z.array(log).describe('Logs and tables beside the exports; their rows are not in counts'),
  noData: z.array(z.strictObject({ id: z.string(), why: z.string() })),
  failed: z.array(z.strictObject({ id: z.string(), why: z.string(), rowsRead: count })),
  counts: z.strictObject({ rowsRead: count, rowsUsed: count, rowsSetAside: count }),
});

/** What stands in results.json. */
export type WrittenResults = z.infer<typeof resultsSchema>;
/** The same while a report is made, and of all reports but a study: with its period. */
export type Results = Omit<WrittenResults, 'period'> & {
  readonly period: NonNullable<WrittenResults['period']>;
};
export type RecordingResult = Results['recordings'][number];
export type WindowResult = RecordingResult['hours'][number];
export type RemovalResult = RecordingResult['largestRemovals'][number];
export type AgreementResult = NonNullable<RecordingResult['agreement']>;
export type EpisodeResult = RecordingResult['episodes'][number];

/** What the page and the sentences of a unit need of a recording; its lists are most of it. */
const OF_UNIT = [
  'id',
  'page',
  'handover',
  'goingOnNote',
  'cannotSay',
  'samplingNote',
  'decisionNote',
  'probeNote',
  'decimals',
  'knownShare',
  'suspectHours',
  'longestUnknown',
  'period',
  'icp',
  'icpRaw',
  'cpp',
  'perfusion',
  'levelling',
  'lowCpp',
  'episodes',
  'episodesReason',
  'decisions',
  'cleaning',
  'monitoredHours',
] as const;

export type UnitRecording = Pick<RecordingResult, (typeof OF_UNIT)[number]>;

/** results.json as the page of a unit needs it: of hundreds of patients all would fill the memory. */
export type UnitResults = Omit<Results, 'recordings'> & { readonly recordings: readonly UnitRecording[] };

/** Perfusion without what stands in it hour by hour or minute by minute. */
const headline = (perfusion: RecordingResult['perfusion']): RecordingResult['perfusion'] => ({
  ...perfusion,
  joint: { ...perfusion.joint, hours: [] },
  prx: { ...perfusion.prx, hours: [] },
  minuteIndex: { ...perfusion.minuteIndex, hours: [] },
  minutes: null,
});

/** What of a recording stays at hand while others are reported. */
export const unitRecording = (result: RecordingResult): UnitRecording => ({
  ...(Object.fromEntries(OF_UNIT.map((key) => [key, result[key]])) as UnitRecording),
  perfusion: headline(result.perfusion),
  lowCpp: { ...result.lowCpp, episodes: [] },
});
