import { type Cleaning, cleanedSignal } from '../clean/clean.js';
import type { Mark } from '../clean/rule.js';
import type { ChannelKind } from '../recording/channel.js';
import { Difference } from '../recording/difference.js';
import { type Interval, lengthMs, overlaps } from '../recording/interval.js';
import { type Recording, rawSignal } from '../recording/recording.js';
import type { Signal } from '../recording/signal.js';
import type { ZoneClock } from '../recording/zone.js';
import { type Episode, type EpisodeRule, findEpisodes } from '../segment/episodes.js';
import { type Agreement, type AgreementSettings, agreementOf } from './agreement.js';
import { daysIn, hoursIn, type NightTimes, nightsIn } from './calendar.js';
import { type CleaningAccount, cleaningAccount } from './cleaning-account.js';
import { doseAboveMmHgHours } from './dose.js';
import { HOUR_MS } from './hour.js';
import { type Levelling, type LevelStep, levelSteps, takenOffMap } from './levelling.js';
import { longestUnknown } from './longest-unknown.js';
import { extremes, timeWeightedMean } from './mean.js';
import {
  type CppFigures,
  cppFigures,
  cppTotals,
  type IcpFigures,
  icpFigures,
  icpTotals,
} from './pressure-figures.js';
import { type Removal, removalsOf } from './removals.js';
import { whyNoRule } from './resolvable.js';
import type { Targets } from './targets.js';
import { type Trust, trustIn } from './trust.js';
import { totalsOver, type WindowTotals } from './window-totals.js';

/** A longer period is told day by day too. */
const MOST_HOURS = 48;

/** Everything of the pipeline file that summaries depend on. */
export interface SummarizeSettings {
  readonly targets: Targets;
  readonly icpEpisodes: EpisodeRule;
  /** Below; of what stands beside the summary (`of-cpp.ts`). */
  readonly cppEpisodes: EpisodeRule;
  readonly night: NightTimes;
  readonly agreement: AgreementSettings;
  /** Left out where nothing is said of the level of the arterial line. */
  readonly levelling?: Levelling | undefined;
}

/** An episode of ICP with its figures; pressures in mmHg, extreme samples as they stand. */
export interface EpisodeFigures extends Episode {
  readonly highestMmHg: number;
  readonly meanMmHg: number;
  readonly doseMmHgHours: number;
  readonly lowestCppMmHg: number | null;
}

/** Burden, time in range and perfusion over one stretch of time. */
export interface Figures {
  readonly icp: IcpFigures;
  readonly cpp: CppFigures;
}

/** All figures over one stretch of time: a period, a night or an hour. */
export interface WindowFigures extends Interval, Figures {
  readonly monitoredHours: { readonly icp: number; readonly map: number; readonly cpp: number };
  /** Episodes that share time with it; null where the sampling cannot show any. */
  readonly episodes: number | null;
  readonly longestEpisodeMinutes: number | null;
}

/** The signals that the figures of a recording were computed on. */
export interface Signals {
  readonly icp: Signal;
  /** As it was measured, at whatever level. */
  readonly map: Signal;
  /** From MAP at ear level, where levelling was asked for. */
  readonly cpp: Signal;
}

/** All that is known of one recording, over one period. */
export interface RecordingSummary {
  readonly period: WindowFigures;
  readonly raw: Figures;
  /** ICP with suspect stretches taken the other way; null where nothing is suspect. */
  readonly otherWay: Figures | null;
  readonly hours: readonly WindowFigures[];
  /** Days of the calendar; of a period of two days or less there are none. */
  readonly days: readonly WindowFigures[];
  readonly nights: readonly WindowFigures[];
  readonly episodes: readonly EpisodeFigures[];
  readonly undeterminedEpisodes: number;
  /** Why there are no episodes to count; null where there are, or could be. */
  readonly episodesReason: string | null;
  readonly marks: readonly Mark[];
  /** Stretches of ICP that share time with the period, each as a whole. */
  readonly removals: readonly Removal[];
  readonly cleaning: CleaningAccount;
  /** Of two sources of ICP, or why there is none. */
  readonly agreement: Agreement | string;
  readonly trust: Trust;
  /** Of ICP, over the period; null where it is known throughout. */
  readonly longestUnknown: Interval | null;
  readonly signals: Signals;
  /** What MAP was taken down by for CPP; none where it was not. */
  readonly levelSteps: readonly LevelStep[];
}

/** Figures with the totals that they were made from. */
interface OverWindow extends Figures {
  readonly totals: { readonly icp: WindowTotals; readonly cpp: WindowTotals };
}

const alone = ({ icp, cpp }: Figures): Figures => ({ icp, cpp });

const intervalOf = (recording: Recording, ...kinds: ChannelKind[]): number =>
  Math.max(...kinds.map((kind) => recording.channels[kind]?.nominalIntervalMs ?? 0), 0) || 0;

/** Computes every figure of a recording over a period, from the recording as it came and what cleaning marked. */
export function summarizeRecording(
  recording: Recording,
  cleaning: Cleaning,
  settings: SummarizeSettings,
  period: Interval,
  clock: ZoneClock,
): RecordingSummary {
  const { targets } = settings;
  const [rawIcp, rawMap] = [rawSignal(recording, 'icp'), rawSignal(recording, 'map')];
  const steps = levelSteps(settings.levelling, recording.care);
  const perfusion = new Difference(rawMap, rawIcp, takenOffMap(steps));
  const signalsOf = (icp: Signal, map: Signal): Signals => ({ icp, map, cpp: perfusion.where(map, icp) });
  const read = (reading: 'headline' | 'otherWay'): Signals =>
    signalsOf(
      cleanedSignal(recording, 'icp', cleaning, reading),
      cleanedSignal(recording, 'map', cleaning, reading),
    );
  const icpInterval = intervalOf(recording, 'icp');
  const cppInterval = intervalOf(recording, 'icp', 'map');
  /** Figures over several windows; the signals are gone through once for all of them. */
  const figuresOver = ({ icp, cpp }: Signals, windows: readonly Interval[]): OverWindow[] => {
    const ofIcp = icpTotals(icp, windows, targets);
    const ofCpp = cppTotals(cpp, windows, targets);
    return windows.map((window, i) => ({
      totals: { icp: ofIcp[i], cpp: ofCpp[i] },
      icp: icpFigures({ signal: icp, window, intervalMs: icpInterval, totals: ofIcp[i] }, targets),
      cpp: cppFigures({ signal: cpp, window, intervalMs: cppInterval, totals: ofCpp[i] }, targets),
    }));
  };

  const signals = read('headline');
  const episodesReason = whyNoRule(icpInterval, settings.icpEpisodes.minSeconds);
  const found =
    episodesReason === null
      ? findEpisodes(signals.icp, settings.icpEpisodes)
      : { episodes: [], undetermined: [] };
  const windowFigures = (
    window: Interval,
    { totals, ...figures }: OverWindow,
    ofMap: WindowTotals,
  ): WindowFigures => {
    const inside = found.episodes.filter((episode) => overlaps(episode, window));
    return {
      start: window.start,
      end: window.end,
      monitoredHours: {
        icp: totals.icp.sums.hours,
        map: ofMap.sums.hours,
        cpp: totals.cpp.sums.hours,
      },
      ...figures,
      episodes: episodesReason === null ? inside.length : null,
      longestEpisodeMinutes:
        inside.length === 0 ? null : Math.max(...inside.map(({ start, end }) => (end - start) / 60_000)),
    };
  };

  const inPeriod = cleaning.marks.filter((mark) => overlaps(mark, period));
  const hours = hoursIn(period, clock);
  const days = lengthMs(period) > MOST_HOURS * HOUR_MS ? daysIn(period, clock) : [];
  const windows = [period, ...hours, ...days, ...nightsIn(recording.extent, settings.night, clock)];
  const figures = figuresOver(signals, windows);
  const ofMap = totalsOver(signals.map, windows, [], false);
  const [current, ...rest] = windows.map((window, i) => windowFigures(window, figures[i], ofMap[i]));
  const hasSuspect = inPeriod.some(({ grade }) => grade === 'suspect');
  const raw: Signals = { icp: rawIcp, map: rawMap, cpp: perfusion.signal };
  return {
    period: current,
    raw: alone(figuresOver(raw, [period])[0]),
    otherWay: hasSuspect ? alone(figuresOver(read('otherWay'), [period])[0]) : null,
    hours: rest.slice(0, hours.length),
    days: rest.slice(hours.length, hours.length + days.length),
    nights: rest.slice(hours.length + days.length),
    episodes: found.episodes
      .filter((episode) => overlaps(episode, period))
      .map((episode) => episodeFigures(episode, signals, settings.icpEpisodes.threshold)),
    undeterminedEpisodes: found.undetermined.filter((episode) => overlaps(episode, period)).length,
    episodesReason,
    marks: inPeriod,
    removals: removalsOf(raw.icp, inPeriod),
    cleaning: cleaningAccount(recording, cleaning, period, targets, {
      perfusion,
      signals,
      sums: { icp: figures[0].totals.icp.sums, cpp: figures[0].totals.cpp.sums },
    }),
    agreement: agreementOf(recording, cleaning, period, settings.agreement, clock),
    longestUnknown: longestUnknown(signals.icp, period),
    trust: trustIn(inPeriod, current.monitoredHours.icp, period),
    signals,
    levelSteps: steps,
  };
}

function episodeFigures(episode: Episode, { icp, cpp }: Signals, threshold: number): EpisodeFigures {
  const { lowest } = extremes(cpp, episode);
  return {
    ...episode,
    highestMmHg: extremes(icp, episode).highest,
    meanMmHg: timeWeightedMean(icp, episode),
    doseMmHgHours: doseAboveMmHgHours(icp, episode, threshold),
    lowestCppMmHg: Number.isNaN(lowest) ? null : lowest,
  };
}
