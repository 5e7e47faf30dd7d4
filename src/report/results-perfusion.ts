import { z } from 'zod';
import { count, figure, figures, reason, time } from './results-figures.js';

const stretch = { start: time, end: time };

/** Hours past a pressure, and the area beyond it. */
const below = z.strictObject({
  belowMmHg: z.number(),
  hours: figure,
  hoursReason: reason,
  doseMmHgHours: figure,
  doseMmHgHoursReason: reason,
});

const jointHours = figures(['bothHours', 'icpAloneHours', 'cppAloneHours', 'neitherHours']);

/** ICP too high and CPP too low, at once and each alone; of the time over which both are known. */
const joint = z.strictObject({
  icpAboveMmHg: z.number(),
  cppBelowMmHg: z.number(),
  ...jointHours.shape,
  hours: z
    .array(z.strictObject({ ...stretch, ...jointHours.shape }))
    .describe('Hour by hour; none in the morning report'),
});

/** An index of how ICP follows arterial pressure, over the period. */
export const reactivityIndex = z.strictObject({
  ...figures(['mean', 'shareAboveLimit', 'hoursAboveLimit']).shape,
  computableHours: z.number().describe('Minutes at whose end it could be computed, as hours'),
  computableShare: z.number().describe('The same as a share of the period'),
  whyNone: z.string().nullable().describe('Why it could be computed at no time; null where it could'),
  sentence: z.string(),
  hours: z.array(z.strictObject({ ...stretch, mean: figure, meanReason: reason, computableMinutes: count })),
});

/** Mean of the index by bins of CPP over the period, and the parabola through them. */
const curve = z.strictObject({
  bins: z.array(
    z.strictObject({
      fromMmHg: z.number(),
      toMmHg: z.number(),
      minutes: count,
      meanIndex: z.number().describe('Back from the mean of Fisher-transformed values'),
      isFitted: z.boolean().describe('False where it holds too little of the time to count'),
    }),
  ),
  fit: z
    .strictObject({
      x0: z.number().describe('CPP at which the polynomial is centred, mmHg'),
      curvature: z.number().describe('Of the transformed index, per mmHg squared'),
      slope: z.number(),
      intercept: z.number(),
      r2: z.number(),
      optimalMmHg: z.number(),
      lowerMmHg: figure.describe(
        'Where the curve falls under the limit; null where it does not inside the bins',
      ),
      upperMmHg: figure.describe('Where it rises over it again; null likewise'),
    })
    .nullable(),
  whyNoFit: z.string().nullable(),
});

/** `yieldShare` is of the minutes that had enough PRx in the 4 h before. */
const optimal = z.strictObject({
  ...figures([
    'meanOptimalMmHg',
    'meanDifferenceMmHg',
    'hoursBelow',
    'yieldShare',
    'shuffledYieldShare',
    'meanLowerLimitMmHg',
    'meanUpperLimitMmHg',
  ]).shape,
  belowByMmHg: z.number().describe('hoursBelow counts CPP under optimal CPP by more than this'),
  minutesWithCurve: count.describe('Minutes at whose end a curve was accepted'),
  minutesCompared: count.describe('Those at which CPP was known too, so that it could be compared'),
  minutesWithLowerLimit: count,
  minutesWithUpperLimit: count,
  shuffles: count.describe('Phase-shuffled copies of MAP that the yield beside it is the mean of'),
  whyWithheld: z
    .string()
    .nullable()
    .describe('Why no optimal CPP is shown though curves were found; null where it is shown, or none was'),
  sentence: z.string(),
});

const oneChannel = z.strictObject({
  header: z.string(),
  knownHours: z.number(),
  decimals: count,
  ...figures(['mean', 'lowest5Min', 'highest5Min']).shape,
});

export const perfusion = z
  .strictObject({
    below: z.array(below).describe('CPP below its floor and below its lowest band'),
    joint,
    limit: z.number().describe('Over which the index counts as impaired'),
    prxDoubt: z
      .string()
      .nullable()
      .describe(
        'Why neither index, nor what rests on them, can be judged; null where nothing speaks against it',
      ),
    prx: reactivityIndex.describe('From 10-s means in windows of 5 min'),
    minuteIndex: reactivityIndex.describe('From 1-min means in windows of 20 min; it has no limit'),
    prxByCpp: z
      .array(
        z.strictObject({
          fromMmHg: figure,
          toMmHg: figure,
          minutes: count.describe('Minutes with PRx whose mean CPP of the same 5 min lies in the band'),
          ...figures(['meanPrx']).shape,
        }),
      )
      .describe('Mean PRx in each band of CPP; none in the morning report, or where PRx cannot be computed'),
    curve: curve
      .nullable()
      .describe('Investigational; null in the morning report, where it would become a target'),
    optimal: optimal.nullable().describe('Likewise'),
    minutes: z
      .strictObject({
        firstEnd: time,
        cppMmHg: z.array(figure),
        prx: z.array(figure),
        minuteIndex: z.array(figure),
        optimalCppMmHg: z.array(figure),
      })
      .nullable()
      .describe(
        'A value a minute, stamped at its end; always null in results.json, and a row a minute in tables/minutes.csv',
      ),
    plateauWaves: z
      .array(
        z.strictObject({
          ...stretch,
          minutes: z.number(),
          highestMmHg: z.number(),
          meanMmHg: z.number(),
        }),
      )
      .describe('ICP of 50 mmHg or more for 5 to 20 min, seen from beginning to end'),
    plateauWavesCut: count.describe('Likewise, but cut off by missing data: they may have been longer'),
    plateauWavesReason: reason,
    bWaves: z.strictObject({ ...figures(['share', 'windowsWith']).shape, windows: count }),
    pulse: z
      .strictObject({
        ...figures(['meanAmplitudeMmHg', 'meanRap']).shape,
        knownHours: z.number(),
        rapHours: z.number(),
      })
      .nullable()
      .describe('From a waveform export; null where there is none'),
    oxygen: oneChannel
      .extend({ belowMmHg: z.number(), hoursBelow: figure, hoursBelowReason: reason })
      .nullable()
      .describe('Brain tissue oxygen; null where none was exported'),
    temperature: oneChannel.nullable().describe('Degrees Celsius'),
    endTidalCo2: oneChannel.nullable().describe('mmHg'),
  })
  .describe('Perfusion and autoregulation over the period');

export type PerfusionResult = z.infer<typeof perfusion>;
