import type { Interval } from '../../recording/interval.js';
import type { EpisodeRule } from '../../segment/episodes.js';
import { type Figure, unless } from '../figure.js';
import { whyNoWindow } from '../resolvable.js';
import type { Feature, Needs } from './feature.js';
import { FEATURE_LEVELS, type FeatureLevels } from './feature-levels.js';
import { featuresOf } from './features.js';
import type { StudySignals } from './study-signals.js';
import { measuresOver, type WindowMeasures } from './window-measures.js';

/** By key of the feature. */
export type BurdenFeatures = Readonly<Record<string, Figure>>;

/** Why a window has too little of what a feature needs; null where it has enough. */
function whyNothing(needs: Needs, { icp, cpp, exportedHours }: WindowMeasures): string | null {
  if (needs === 'icp' && icp.sums.hours === 0) return 'no ICP in this time';
  if (needs === 'cpp' && cpp.hours === 0) return 'no CPP in this time';
  if (needs === 'exportedIcp' && exportedHours === 0) return 'no ICP was exported of this time';
  return null;
}

/**
 * The features of burden of one recording over several windows, which may overlap: a reason stands where a feature has no
 * value. Hours and doses of neighbouring windows add up to those of both; episodes are those of the signal inside a window
 * alone, so that nothing behind its end can change them.
 *
 * @param rule of the unit's episodes of ICP
 */
export function burdenFeatures(
  study: StudySignals,
  windows: readonly Interval[],
  rule: EpisodeRule,
  levels: FeatureLevels = FEATURE_LEVELS,
): BurdenFeatures[] {
  const features = featuresOf(levels, rule);
  const { icp, map } = study.intervalMs;
  const intervalMs = { icp, cpp: Math.max(icp, map) };
  /** What rests on nothing that is sampled, or tells of its own sampling, is not asked for it here. */
  const whyCoarse = ({ needs, coarsestSeconds }: Feature): string | null =>
    coarsestSeconds === null || (needs !== 'icp' && needs !== 'cpp')
      ? null
      : whyNoWindow(intervalMs[needs], coarsestSeconds * 1000);
  return measuresOver(study, windows, levels, rule).map((measures) =>
    Object.fromEntries(
      features.map((feature) => [
        feature.key,
        unless(whyNothing(feature.needs, measures) ?? whyCoarse(feature), () => feature.read(measures)),
      ]),
    ),
  );
}
