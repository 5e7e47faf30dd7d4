import type { Mark } from '../../clean/rule.js';
import type { Interval } from '../../recording/interval.js';
import { cutTo } from '../../recording/pieces.js';
import { type Signal, withoutIntervals } from '../../recording/signal.js';
import { type EpisodeRule, findEpisodes } from '../../segment/episodes.js';
import type { Figure } from '../figure.js';
import { PRX_LIMIT } from '../perfusion/cpp-bins.js';
import { type IndexFigures, indexFigures } from '../perfusion/index-figures.js';
import { type PieceSums, risingLevels } from '../piece-sums.js';
import { windowMeans } from '../window-means.js';
import { totalsOver, type WindowTotals } from '../window-totals.js';
import type { FeatureLevels } from './feature-levels.js';
import { meanLessOptimal, reactivityCourse } from './reactivity-course.js';
import type { StudySignals } from './study-signals.js';

/** What the features of one window are read from. */
export interface WindowMeasures {
  readonly icp: WindowTotals;
  readonly map: PieceSums;
  readonly cpp: PieceSums;
  /**
   * Hours over which each is known, summed as whole milliseconds: those of sums by level differ in their last bits, and of
   * two patients with the same episodes in the same time one would rank above the other.
   */
  readonly hours: { readonly icp: number; readonly cpp: number };
  /** Means over 5 min, of ICP the highest and of CPP the lowest. */
  readonly highestIcp: Figure;
  readonly lowestCpp: Figure;
  /** Minutes of each episode of the signal inside the window alone. */
  readonly episodeMinutes: readonly number[];
  readonly prx: IndexFigures;
  readonly lessOptimal: Figure;
  /** Hours of ICP as exported, and of them those that cleaning removed, and those that are suspect and were not removed. */
  readonly exportedHours: number;
  readonly removedHours: number;
  readonly suspectHours: number;
  /** As the cohort table gives it for the patient, the same in each window. */
  readonly therapyIntensity: Figure;
}

const NO_MEAN = 'no 5-min window is known for at least half';

const ofIcp = (marks: readonly Mark[], grade: Mark['grade']): Mark[] =>
  marks.filter((mark) => mark.channel === 'icp' && mark.grade === grade);

/** Gathers what the features of all windows are read from; each signal is gone through once for all levels and windows. */
export function measuresOver(
  study: StudySignals,
  windows: readonly Interval[],
  { icpAboveMmHg, cppBelowMmHg }: FeatureLevels,
  rule: EpisodeRule,
): WindowMeasures[] {
  if (windows.length === 0) return [];
  const { icp, map, cpp } = study.signals;
  const icpTotals = totalsOver(icp, windows, risingLevels(...icpAboveMmHg), true);
  const hoursOver = (of: Signal): number[] =>
    totalsOver(of, windows, [], false).map(({ sums }) => sums.hours);
  const mapTotals = totalsOver(map, windows, [], false);
  const cppTotals = totalsOver(cpp, windows, risingLevels(...cppBelowMmHg), false);
  const kept = withoutIntervals(study.rawIcp, ofIcp(study.marks, 'removed'));
  const sure = withoutIntervals(kept, ofIcp(study.marks, 'suspect'));
  const [exported, keptHours, sureHours, icpHours, cppHours] = [study.rawIcp, kept, sure, icp, cpp].map(
    hoursOver,
  );
  const whole = {
    start: Math.min(...windows.map(({ start }) => start)),
    end: Math.max(...windows.map(({ end }) => end)),
  };
  const course = reactivityCourse(study, whole);
  return windows.map((window, i): WindowMeasures => {
    const extreme = (of: Signal, pick: (a: number, b: number) => number): Figure => {
      const found = windowMeans(of, window).map(({ mean }) => mean);
      return found.length === 0 ? { reason: NO_MEAN } : found.reduce((a, b) => pick(a, b));
    };
    return {
      icp: icpTotals[i],
      map: mapTotals[i].sums,
      cpp: cppTotals[i].sums,
      hours: { icp: icpHours[i], cpp: cppHours[i] },
      highestIcp: extreme(icp, Math.max),
      lowestCpp: extreme(cpp, Math.min),
      episodeMinutes: findEpisodes(cutTo(icp, window), rule).episodes.map(
        ({ start, end }) => (end - start) / 60_000,
      ),
      prx: indexFigures(typeof course === 'string' ? course : course.prx, window, [], PRX_LIMIT),
      lessOptimal: meanLessOptimal(course, window),
      exportedHours: exported[i],
      removedHours: Math.max(0, exported[i] - keptHours[i]),
      suspectHours: Math.max(0, keptHours[i] - sureHours[i]),
      therapyIntensity: study.therapyIntensity ?? { reason: 'the cohort table does not give it' },
    };
  });
}
