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

const ruleFigures = z.strictObject({
  icpHoursAboveThreshold: z.number(),
  icpDoseMmHgHours: z.number(),
  cppHoursBelowFloor: z.number(),
  cppDoseBelowFloorMmHgHours: z.number(),
});

const log = z.strictObject({
  file: z.string(),
  kind: z.enum(['care', 'alarms', 'occupancy', 'overrides']),
  rowsRead: count,
  rowsUsed: count,
  rowsUndecided: count.describe('Rows of a reviewed copy on which nobody decided'),
  rowsSetAside: count,
  warnings: z.array(z.string()).describe('What to know of how it was read'),
});

const removal = z
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

const agreement = z.strictObject({
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

const happened = { start: time, end: time.nullable() };

const bedside = z
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
  handover: z.array(z.string()).describe('The lines of the patient in handover.txt'),
  probeNote: z.string().nullable().describe('What may be the probe, in short; null where nothing is suspect'),
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
  days: z.array(windowFigures).describe('Days of the calendar; none where the period is of two days or less'),
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
  careEntriesNotUnderstood: count
    .nullable()
    .describe('Those in words of which no rule makes anything; null where no log was given'),
  careNotUnderstood: z
    .array(z.strictObject({ start: time, text: z.string() }))
    .describe('Up to three of them, first those that share time with the recording'),
  bedside,
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
  period: z.strictObject({
    start: time,
    end: time,
    word: z.enum(['night', 'period']),
    timezone: z.string(),
    why: z.string(),
  }),
  unit: z.strictObject({
    sentence: z.string(),
    samplingNote: z
      .string()
      .nullable()
      .describe('Who was sampled too coarsely for some rule; null where nobody was'),
    order: z.array(z.string()).describe('Patients as the unit page lists them'),
  }),
  recordings: z.array(recording),
  logs: z.array(log).describe('Logs and tables beside the exports; their rows are not in counts'),
  noData: z.array(z.strictObject({ id: z.string(), why: z.string() })),
  failed: z.array(z.strictObject({ id: z.string(), why: z.string(), rowsRead: count })),
  counts: z.strictObject({ rowsRead: count, rowsUsed: count, rowsSetAside: count }),
});

export type Results = z.infer<typeof resultsSchema>;
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
  'cannotSay',
  'samplingNote',
  'decisionNote',
  'probeNote',
  'decimals',
  'knownShare',
  'suspectHours',
  'icp',
  'icpRaw',
  'cpp',
  'episodes',
  'episodesReason',
  'decisions',
  'cleaning',
] as const;

export type UnitRecording = Pick<RecordingResult, (typeof OF_UNIT)[number]>;

/** results.json as the page of a unit needs it: of hundreds of patients all would fill the memory. */
export type UnitResults = Omit<Results, 'recordings'> & { readonly recordings: readonly UnitRecording[] };

/** What of a recording stays at hand while others are reported. */
export const unitRecording = (result: RecordingResult): UnitRecording =>
  Object.fromEntries(OF_UNIT.map((key) => [key, result[key]])) as UnitRecording;
