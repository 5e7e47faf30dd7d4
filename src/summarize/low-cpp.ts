import { type Interval, intersect, overlaps } from '../recording/interval.js';
import { cutTo } from '../recording/pieces.js';
import type { Signal } from '../recording/signal.js';
import { type Episode, type EpisodeTimes, episodesAmong } from '../segment/episodes.js';
import { joinStretches, stretchesPast } from '../segment/stretches.js';
import type { CppTarget } from './cpp-targets.js';
import { type Figure, unless } from './figure.js';
import { extremes, timeWeightedMean } from './mean.js';
import { sumsOver } from './piece-sums.js';
import { whyNoDose, whyNoRule } from './resolvable.js';

/** An episode of low CPP with its figures; pressures in mmHg. */
export interface LowCppEpisode extends Episode {
  readonly lowestMmHg: number;
  readonly meanMmHg: number;
  /** Below the target of each instant. */
  readonly doseMmHgHours: number;
}

/** CPP against the target that was in force at each instant. */
export interface LowCpp {
  /** Those that share time with the period, in time order; ends may lie outside of it. */
  readonly targets: readonly CppTarget[];
  /** Below the target in force, over the period. */
  readonly hours: Figure;
  readonly doseMmHgHours: Figure;
  /** Those that share time with the period, each as a whole. */
  readonly episodes: readonly LowCppEpisode[];
  readonly undetermined: number;
  /** Why there are no episodes to count; null where there are, or could be. */
  readonly episodesReason: string | null;
}

/** Hours and dose below the target of each instant, exactly: the window is split where the target changes. */
function belowTarget(
  cpp: Signal,
  targets: readonly CppTarget[],
  window: Interval,
): { hours: number; doseMmHgHours: number } {
  const sum = { hours: 0, doseMmHgHours: 0 };
  for (const target of targets) {
    for (const part of intersect([window], [target])) {
      const sums = sumsOver(cpp, part, [target.belowMmHg]);
      sum.hours += sums.hoursBelow(target.belowMmHg);
      sum.doseMmHgHours += sums.doseBelow(target.belowMmHg);
    }
  }
  return sum;
}

/**
 * Time, dose and episodes of CPP below its target. An episode is CPP below the target of each instant, by the rule of
 * episodes of ICP turned upside down; it runs on across a change of target while CPP is below its own target of the
 * moment. Source of the target: Brain Trauma Foundation, 4th ed., Carney et al., Neurosurgery 2017;80:6-15; sustained
 * 5 min: common practice, no source.
 *
 * @param targets one behind the other over all time
 * @param intervalMs nominal interval of the coarser of ICP and MAP
 */
export function lowCpp(
  cpp: Signal,
  targets: readonly CppTarget[],
  rule: EpisodeTimes,
  intervalMs: number,
  period: Interval,
): LowCpp {
  const { hours: known } = sumsOver(cpp, period, []);
  const none = known === 0 ? 'no CPP in this time' : null;
  const noDose = none ?? whyNoDose(intervalMs);
  const total = noDose === null ? belowTarget(cpp, targets, period) : null;
  const episodesReason = none ?? whyNoRule(intervalMs, rule.minSeconds);
  const parts = targets.map((target) => stretchesPast(cutTo(cpp, target), target.belowMmHg, 'below'));
  const found =
    episodesReason === null ? episodesAmong(joinStretches(parts), rule) : { episodes: [], undetermined: [] };
  return {
    targets: targets.filter((target) => overlaps(target, period)),
    hours: unless(noDose, () => total?.hours ?? 0),
    doseMmHgHours: unless(noDose, () => total?.doseMmHgHours ?? 0),
    episodes: found.episodes
      .filter((episode) => overlaps(episode, period))
      .map((episode) => ({
        ...episode,
        lowestMmHg: extremes(cpp, episode).lowest,
        meanMmHg: timeWeightedMean(cpp, episode),
        doseMmHgHours: belowTarget(cpp, targets, episode).doseMmHgHours,
      })),
    undetermined: found.undetermined.filter((episode) => overlaps(episode, period)).length,
    episodesReason,
  };
}
