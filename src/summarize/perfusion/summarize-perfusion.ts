import type { ChannelKind } from '../../recording/channel.js';
import { type Interval, overlaps } from '../../recording/interval.js';
import type { Recording } from '../../recording/recording.js';
import { type WithReasons, withReasons } from '../figure.js';
import { risingLevels, sumsOver } from '../piece-sums.js';
import { whyNoDose, whyNoRule } from '../resolvable.js';
import type { Signals } from '../summarize.js';
import type { Targets } from '../targets.js';
import { whyNoBins } from './bin-means.js';
import { type ChannelFigures, channelFigures } from './channel-figures.js';
import { PRX_LIMIT } from './cpp-bins.js';
import { type PrxInBand, prxByCpp } from './index-by-cpp.js';
import { type IndexFigures, indexFigures } from './index-figures.js';
import { type JointFigures, type JointLimits, jointBurden } from './joint-burden.js';
import { MINUTE_MS, type MinuteCourse } from './minute-course.js';
import { OPTIMAL_WINDOW_MINUTES } from './optimal-cpp.js';
import { type OptimalFigures, optimalFigures } from './optimal-figures.js';
import { type PulseFigures, pulseFigures } from './pulse.js';
import {
  courseBehind,
  MINUTE_INDEX,
  PRX,
  type Reactivity,
  reactivityIn,
  type Sampled,
} from './reactivity.js';
import { type BWaves, bWavesIn, PLATEAU_RULE, type PlateauWaves, plateauWaves } from './waves.js';

/** Brain tissue oxygen under this counts, mmHg. Common practice, no source. */
export const LOW_OXYGEN_MMHG = 20;

const BIN_MS = 10_000;

/** Time and dose of CPP below one pressure. */
export interface BelowFigures extends WithReasons<'hours' | 'doseMmHgHours'> {
  readonly belowMmHg: number;
}

/** Perfusion and autoregulation over a period. */
export interface PerfusionSummary {
  readonly below: readonly BelowFigures[];
  readonly joint: JointLimits & {
    readonly period: JointFigures;
    readonly hours: readonly (Interval & JointFigures)[];
  };
  readonly prx: IndexFigures;
  readonly minuteIndex: IndexFigures;
  /** None where optimal CPP was not asked for, or PRx cannot be had. */
  readonly prxByCpp: readonly PrxInBand[];
  /** Courses over the period, for charts; null where the index cannot be had. */
  readonly courses: { readonly prx: MinuteCourse | null; readonly minuteIndex: MinuteCourse | null };
  /** Null where it was not asked for; a text says why there is none. */
  readonly optimal: OptimalFigures | string | null;
  readonly plateauWaves: PlateauWaves | string;
  readonly bWaves: BWaves | string;
  readonly pulse: PulseFigures | null;
  readonly oxygen: ChannelFigures | null;
  readonly temperature: ChannelFigures | null;
  readonly endTidalCo2: ChannelFigures | null;
}

/** What a summary of perfusion is over. */
export interface PerfusionTask {
  readonly period: Interval;
  /** Of the period, for its tables. */
  readonly hours: readonly Interval[];
  readonly targets: Targets;
  /** False in a morning report, where optimal CPP would become a target. */
  readonly hasOptimal: boolean;
}

/**
 * Everything about perfusion over a period.
 *
 * @param signals cleaned, as the headline figures see them; MAP as exported, CPP as it was corrected
 */
export function summarizePerfusion(
  recording: Recording,
  signals: Signals,
  { period, hours, targets, hasOptimal }: PerfusionTask,
): PerfusionSummary {
  const intervalMs = (kind: ChannelKind): number => recording.channels[kind]?.nominalIntervalMs || 0;
  const icp: Sampled = { signal: signals.icp, intervalMs: intervalMs('icp') };
  const map: Sampled = { signal: signals.map, intervalMs: intervalMs('map') };
  const cppInterval = Math.max(icp.intervalMs, map.intervalMs);
  const limits = { icpAboveMmHg: targets.icpThresholdMmHg, cppBelowMmHg: targets.cppFloorMmHg };
  const [ofPeriod, ...ofHours] = jointBurden(signals, [period, ...hours], limits, cppInterval);
  const whyNoMap = recording.channels.map ? null : 'there is no arterial pressure';
  const reactivity = (form: typeof PRX, window: Interval): Reactivity | string =>
    whyNoMap ?? reactivityIn(icp, map, form, window);
  const lead = hasOptimal ? OPTIMAL_WINDOW_MINUTES * MINUTE_MS : 0;
  const withLead = reactivity(PRX, { start: period.start - lead, end: period.end });
  const prx = courseOf(withLead, period);
  const optimal = !hasOptimal
    ? null
    : typeof withLead === 'string'
      ? withLead
      : optimalFigures(withLead, signals.cpp, cppInterval, period);
  const minuteIndex = courseOf(reactivity(MINUTE_INDEX, period), period);
  const coarseWaves = whyNoBins(icp.intervalMs, BIN_MS);
  const coarsePlateau = whyNoRule(icp.intervalMs, PLATEAU_RULE.minSeconds);
  const pulse = recording.channels.icpPulse;
  const beside = (kind: ChannelKind, below: number | null): ChannelFigures | null => {
    const channel = recording.channels[kind];
    return channel ? channelFigures(channel, period, below) : null;
  };
  return {
    below: belowFigures(signals, period, targets, cppInterval),
    joint: {
      ...limits,
      period: ofPeriod,
      hours: hours.map(({ start, end }, i) => ({ start, end, ...ofHours[i] })),
    },
    prx: indexFigures(prx, period, hours, PRX_LIMIT),
    minuteIndex: indexFigures(minuteIndex, period, hours, null),
    prxByCpp:
      optimal === null || typeof optimal === 'string' || typeof prx === 'string'
        ? []
        : prxByCpp(prx, optimal.cpp, targets.cppEdgesMmHg),
    courses: {
      prx: typeof prx === 'string' ? null : prx,
      minuteIndex: typeof minuteIndex === 'string' ? null : minuteIndex,
    },
    optimal,
    plateauWaves: coarsePlateau ?? wavesIn(plateauWaves(signals.icp), period),
    bWaves: coarseWaves ?? bWavesIn(icp, period),
    pulse: pulse ? pulseFigures(pulse, icp, period) : null,
    oxygen: beside('pbto2', LOW_OXYGEN_MMHG),
    temperature: beside('temp', null),
    endTidalCo2: beside('etco2', null),
  };
}

/** Those that share time with the period. */
const wavesIn = ({ waves, cut }: PlateauWaves, period: Interval): PlateauWaves => ({
  waves: waves.filter((wave) => overlaps(wave, period)),
  cut: cut.filter((wave) => overlaps(wave, period)),
});

/** The course of an index over the period alone. */
const courseOf = (reactivity: Reactivity | string, period: Interval): MinuteCourse | string =>
  typeof reactivity === 'string' ? reactivity : courseBehind(reactivity.course, period.start);

/** CPP below its floor, and below its lowest band where that is another one. */
function belowFigures(
  { cpp }: Signals,
  period: Interval,
  { cppFloorMmHg, cppEdgesMmHg }: Targets,
  intervalMs: number,
): BelowFigures[] {
  const levels = risingLevels(cppEdgesMmHg[0], cppFloorMmHg);
  const sums = sumsOver(cpp, period, levels);
  const reason = sums.hours === 0 ? 'no CPP in this time' : whyNoDose(intervalMs);
  return levels.toReversed().map((belowMmHg) => ({
    belowMmHg,
    ...withReasons({
      hours: reason === null ? sums.hoursBelow(belowMmHg) : { reason },
      doseMmHgHours: reason === null ? sums.doseBelow(belowMmHg) : { reason },
    }),
  }));
}
