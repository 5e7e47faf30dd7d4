import { type Interval, lengthMs } from '../recording/interval.js';
import type { ZoneClock } from '../recording/zone.js';
import { withReasons } from '../summarize/figure.js';
import { isNoBetterThanChance } from '../summarize/perfusion/chance-yield.js';
import type { ChannelFigures } from '../summarize/perfusion/channel-figures.js';
import { BIN_MMHG, PRX_LIMIT } from '../summarize/perfusion/cpp-bins.js';
import type { IndexFigures } from '../summarize/perfusion/index-figures.js';
import { valuesIn } from '../summarize/perfusion/index-figures.js';
import type { MinuteCourse } from '../summarize/perfusion/minute-course.js';
import { BELOW_OPTIMAL_MMHG, type OptimalFigures } from '../summarize/perfusion/optimal-figures.js';
import { LOW_OXYGEN_MMHG, type PerfusionSummary } from '../summarize/perfusion/summarize-perfusion.js';
import { ends } from './ends.js';
import { optimalSentence, whyNothingRead } from './optimal-words.js';
import { prxDoubt } from './prx-doubt.js';
import { minuteIndexSentence, prxSentence } from './reactivity-words.js';
import type { PerfusionResult } from './results-perfusion.js';
import type { RecordingResult } from './results-schema.js';

const orNull = (value: number): number | null => (Number.isNaN(value) ? null : value);

const indexResult = (figures: IndexFigures, sentence: string, clock: ZoneClock): PerfusionResult['prx'] => ({
  ...figures,
  sentence,
  hours: figures.hours.map((hour) => ({ ...hour, ...ends(hour, clock) })),
});

/** @param doubt why PRx cannot be judged, and so neither can what rests on it; null where it can */
function curveResult(
  { bins, curve }: OptimalFigures,
  doubt: string | null,
): NonNullable<PerfusionResult['curve']> {
  if (doubt !== null) return { bins: [], fit: null, whyNoFit: doubt };
  const hasFit = typeof curve !== 'string';
  return {
    bins: bins.map(({ fromMmHg, count, meanZ, isFitted }) => ({
      fromMmHg,
      toMmHg: fromMmHg + BIN_MMHG,
      minutes: count,
      meanIndex: Math.tanh(meanZ),
      isFitted,
    })),
    fit: hasFit
      ? {
          ...curve.parabola,
          optimalMmHg: curve.optimalMmHg,
          lowerMmHg: orNull(curve.lowerMmHg),
          upperMmHg: orNull(curve.upperMmHg),
        }
      : null,
    whyNoFit: hasFit ? null : curve,
  };
}

/** What is not shown where nothing can be read from it, and beside it how often a curve was found. */
const READ = [
  'meanOptimalMmHg',
  'meanDifferenceMmHg',
  'hoursBelow',
  'meanLowerLimitMmHg',
  'meanUpperLimitMmHg',
] as const;
const YIELDS = ['yieldShare', 'shuffledYieldShare'] as const;

/** @param doubt why PRx cannot be judged, and so neither can what rests on it; null where it can */
function optimalResult(
  optimal: OptimalFigures,
  doubt: string | null,
): NonNullable<PerfusionResult['optimal']> {
  const { course: _course, cpp: _cpp, bins: _bins, curve: _curve, ...figures } = optimal;
  const whyWithheld = doubt ?? (isNoBetterThanChance(optimal) ? whyNothingRead(optimal) : null);
  const shown = { ...figures, belowByMmHg: BELOW_OPTIMAL_MMHG, whyWithheld };
  if (whyWithheld === null) return { ...shown, sentence: optimalSentence(optimal) };
  const left = doubt === null ? READ : [...READ, ...YIELDS];
  return {
    ...shown,
    ...withReasons(Object.fromEntries(left.map((key) => [key, { reason: whyWithheld }]))),
    sentence: `Optimal CPP (investigational) is not shown. ${whyWithheld}`,
  };
}

/** A value a minute over the period; where a course has none for a minute, null. */
function minutesResult(
  { courses, optimal }: PerfusionSummary,
  period: Interval,
  clock: ZoneClock,
  isWithheld: boolean,
): PerfusionResult['minutes'] {
  const { prx, minuteIndex } = courses;
  const all = [prx, minuteIndex].filter((one) => one !== null);
  if (all.length === 0) return null;
  const firstEnd = Math.min(...all.map((one) => one.firstEnd));
  const length = Math.max(...all.map((one) => one.values.length));
  const list = (course: MinuteCourse | null): (number | null)[] => {
    const values = course ? valuesIn(course, period) : new Float64Array(0);
    return Array.from({ length }, (_, i) => orNull(values[i] ?? Number.NaN));
  };
  const hasOptimal = optimal !== null && typeof optimal !== 'string';
  return {
    firstEnd: clock.format(firstEnd),
    cppMmHg: list(hasOptimal ? optimal.cpp : null),
    prx: list(prx),
    minuteIndex: list(minuteIndex),
    optimalCppMmHg: list(
      hasOptimal && !isWithheld
        ? { firstEnd: optimal.course.firstEnd, values: optimal.course.optimal }
        : null,
    ),
  };
}

const besideResult = ({
  hoursBelow: _,
  hoursBelowReason: __,
  ...figures
}: ChannelFigures): PerfusionResult['temperature'] => figures;

/** Perfusion in the form of results.json, times as local text. */
export function perfusionResult(
  summary: PerfusionSummary,
  clockLag: RecordingResult['clockLag'],
  period: Interval,
  clock: ZoneClock,
): PerfusionResult {
  const { joint, optimal, plateauWaves, bWaves, pulse, oxygen, temperature, endTidalCo2 } = summary;
  const hasOptimal = optimal !== null && typeof optimal !== 'string';
  const { period: jointPeriod, hours: jointHours, ...limits } = joint;
  const doubt = prxDoubt(clockLag, summary);
  const ofOptimal = hasOptimal ? optimalResult(optimal, doubt) : null;
  return {
    below: [...summary.below],
    joint: {
      ...limits,
      ...jointPeriod,
      hours: jointHours.map((hour) => ({ ...hour, ...ends(hour, clock) })),
    },
    limit: PRX_LIMIT,
    prxDoubt: doubt,
    prx: indexResult(summary.prx, prxSentence(summary.prx, PRX_LIMIT, doubt), clock),
    minuteIndex: indexResult(summary.minuteIndex, minuteIndexSentence(summary.minuteIndex, doubt), clock),
    prxByCpp: [...summary.prxByCpp],
    curve: hasOptimal ? curveResult(optimal, doubt) : null,
    optimal: ofOptimal,
    minutes:
      optimal === null
        ? null
        : minutesResult(summary, period, clock, (ofOptimal?.whyWithheld ?? null) !== null),
    plateauWaves:
      typeof plateauWaves === 'string'
        ? []
        : plateauWaves.waves.map((wave) => ({
            ...wave,
            ...ends(wave, clock),
            minutes: lengthMs(wave) / 60_000,
          })),
    plateauWavesCut: typeof plateauWaves === 'string' ? 0 : plateauWaves.cut.length,
    ...(typeof plateauWaves === 'string' ? { plateauWavesReason: plateauWaves } : {}),
    bWaves: bWavesResult(bWaves),
    pulse: pulse && {
      meanAmplitudeMmHg: pulse.meanAmplitudeMmHg,
      ...(pulse.meanAmplitudeMmHgReason === undefined
        ? {}
        : { meanAmplitudeMmHgReason: pulse.meanAmplitudeMmHgReason }),
      meanRap: pulse.meanRap,
      ...(pulse.meanRapReason === undefined ? {} : { meanRapReason: pulse.meanRapReason }),
      knownHours: pulse.knownHours,
      rapHours: pulse.rapHours,
    },
    oxygen: oxygen && { ...oxygen, belowMmHg: LOW_OXYGEN_MMHG },
    temperature: temperature && besideResult(temperature),
    endTidalCo2: endTidalCo2 && besideResult(endTidalCo2),
  };
}

function bWavesResult(bWaves: PerfusionSummary['bWaves']): PerfusionResult['bWaves'] {
  const reason =
    typeof bWaves === 'string'
      ? bWaves
      : bWaves.windows === 0
        ? 'ICP was known throughout for no 10 min'
        : null;
  if (reason !== null || typeof bWaves === 'string') {
    return {
      ...withReasons({ share: { reason: reason ?? '' }, windowsWith: { reason: reason ?? '' } }),
      windows: 0,
    };
  }
  return {
    share: bWaves.windowsWith / bWaves.windows,
    windowsWith: bWaves.windowsWith,
    windows: bWaves.windows,
  };
}
