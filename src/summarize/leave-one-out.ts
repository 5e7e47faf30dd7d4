import { type Cleaning, cleanedSignal } from '../clean/clean.js';
import { REVIEWED } from '../clean/decisions.js';
import { Difference } from '../recording/difference.js';
import type { Interval } from '../recording/interval.js';
import { type Recording, rawSignal } from '../recording/recording.js';
import { firstAfter, firstAtOrAfter } from '../recording/search.js';
import type { Signal } from '../recording/signal.js';
import { type FillKnown, gainedSums } from './gained-sums.js';
import { type PieceSums, sumsOver } from './piece-sums.js';
import type { Targets } from './targets.js';

/** The figures that show what a rule changed. */
export interface RuleFigures {
  readonly icpHoursAboveThreshold: number;
  readonly icpDoseMmHgHours: number;
  readonly cppHoursBelowFloor: number;
  readonly cppDoseBelowFloorMmHgHours: number;
}

interface Pair<Of> {
  readonly icp: Of;
  readonly cpp: Of;
}

/** The headline of a period: its signals, and the sums that its figures were made from. */
export interface Headline {
  /** MAP - ICP as they came, of which cleaning only takes parts away. */
  readonly perfusion: Difference;
  readonly signals: Pair<Signal>;
  readonly sums: Pair<PieceSums>;
}

const cleaned = (recording: Recording, cleaning: Cleaning, without?: string): [icp: Signal, map: Signal] => [
  cleanedSignal(recording, 'icp', cleaning, 'headline', without),
  cleanedSignal(recording, 'map', cleaning, 'headline', without),
];

/** The headline as the account of cleaning needs it. */
export function headlineOf(
  recording: Recording,
  cleaning: Cleaning,
  period: Interval,
  { icpThresholdMmHg, cppFloorMmHg }: Targets,
): Headline {
  const perfusion = new Difference(rawSignal(recording, 'map'), rawSignal(recording, 'icp'));
  const [icp, map] = cleaned(recording, cleaning);
  const cpp = perfusion.where(map, icp);
  const sums = {
    icp: sumsOver(icp, period, [icpThresholdMmHg]),
    cpp: sumsOver(cpp, period, [cppFloorMmHg]),
  };
  return { perfusion, signals: { icp, cpp }, sums };
}

/** From the sample before an interval to the one behind it: over the pieces that become unknown with its samples. */
function reachOf({ times }: Signal, { start, end }: Interval): Interval[] {
  if (times.length === 0) return [];
  const first = Math.max(0, firstAtOrAfter(times, start) - 1);
  const last = Math.min(times.length - 1, firstAfter(times, end));
  return [{ start: times[first], end: times[last] }];
}

/** Headline figures of a period as they would be with one rule off, rule after rule. */
export class LeaveOneOut {
  private readonly found = new Map<string, RuleFigures>();

  constructor(
    private readonly recording: Recording,
    private readonly cleaning: Cleaning,
    private readonly period: Interval,
    private readonly targets: Targets,
    private readonly headline: Headline,
  ) {}

  /** The figures without a rule; without `reviewed` nobody has decided anything. */
  without(rule: string): RuleFigures {
    const figures = this.found.get(rule) ?? this.figuresOf(this.sumsWithout(rule));
    this.found.set(rule, figures);
    return figures;
  }

  private sumsOf({ icp, cpp }: Pair<Signal>): Pair<PieceSums> {
    const { sums } = this.headline;
    return {
      icp: sumsOver(icp, this.period, sums.icp.levels),
      cpp: sumsOver(cpp, this.period, sums.cpp.levels),
    };
  }

  private sumsWithout(rule: string): Pair<PieceSums> {
    const { perfusion, signals, sums } = this.headline;
    const [icp, map] = cleaned(this.recording, this.cleaning, rule);
    // Without a person's decisions as much may become unknown as known.
    if (rule === REVIEWED) return this.sumsOf({ icp, cpp: perfusion.where(map, icp) });
    // Without a rule all stays known that was known, so that only what it took has to be gone through.
    const taken = this.cleaning.marks.flatMap((mark) =>
      mark.rule === rule ? reachOf(rawSignal(this.recording, mark.channel), mark) : [],
    );
    const ofIcp: FillKnown = (known, first, last) => known.set(icp.known.subarray(first, last), first);
    const ofCpp: FillKnown = (known, first, last) => perfusion.fillKnown(map, icp, known, first, last);
    const more = {
      icp: gainedSums(signals.icp, ofIcp, taken, this.period, sums.icp.levels),
      cpp: gainedSums(signals.cpp, ofCpp, taken, this.period, sums.cpp.levels),
    };
    more.icp.add(sums.icp);
    more.cpp.add(sums.cpp);
    return more;
  }

  private figuresOf({ icp, cpp }: Pair<PieceSums>): RuleFigures {
    const { icpThresholdMmHg, cppFloorMmHg } = this.targets;
    return {
      icpHoursAboveThreshold: icp.hoursAbove(icpThresholdMmHg),
      icpDoseMmHgHours: icp.doseAbove(icpThresholdMmHg),
      cppHoursBelowFloor: cpp.hoursBelow(cppFloorMmHg),
      cppDoseBelowFloorMmHgHours: cpp.doseBelow(cppFloorMmHg),
    };
  }
}
