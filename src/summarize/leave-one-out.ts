import { type Cleaning, cleanedSignal } from '../clean/clean.js';
import { REVIEWED } from '../clean/decisions.js';
import type { Difference } from '../recording/difference.js';
import type { Interval } from '../recording/interval.js';
import type { Recording } from '../recording/recording.js';
import type { Signal } from '../recording/signal.js';
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

/** The pieces that are known in a signal and not in another of the same samples. */
function gained(signal: Signal, over: Signal): Signal {
  const known = signal.known.slice();
  for (let i = 0; i < known.length; i++) known[i] &= 1 - over.known[i];
  return { ...signal, known };
}

/** Headline figures of a period as they would be with one rule off, rule after rule. */
export class LeaveOneOut {
  private readonly found = new Map<string, RuleFigures>();
  private readonly headline: Pair<Signal>;
  private readonly headlineSums: Pair<PieceSums>;

  /** @param perfusion MAP - ICP of the recording as it came */
  constructor(
    private readonly recording: Recording,
    private readonly cleaning: Cleaning,
    private readonly period: Interval,
    private readonly targets: Targets,
    private readonly perfusion: Difference,
  ) {
    this.headline = this.signals();
    this.headlineSums = this.sumsOf(this.headline);
  }

  /** The figures without a rule; without `reviewed` nobody has decided anything. */
  without(rule: string): RuleFigures {
    const figures = this.found.get(rule) ?? this.figuresOf(this.sumsWithout(rule));
    this.found.set(rule, figures);
    return figures;
  }

  private signals(withoutRule?: string): Pair<Signal> {
    const [icp, map] = (['icp', 'map'] as const).map((channel) =>
      cleanedSignal(this.recording, channel, this.cleaning, 'headline', withoutRule),
    );
    return { icp, cpp: this.perfusion.where(map, icp) };
  }

  private sumsOf({ icp, cpp }: Pair<Signal>): Pair<PieceSums> {
    const { period, targets } = this;
    return {
      icp: sumsOver(icp, period, [targets.icpThresholdMmHg]),
      cpp: sumsOver(cpp, period, [targets.cppFloorMmHg]),
    };
  }

  private sumsWithout(rule: string): Pair<PieceSums> {
    const { icp, cpp } = this.signals(rule);
    // Without a person's decisions as much may become unknown as known.
    if (rule === REVIEWED) return this.sumsOf({ icp, cpp });
    // Without a rule all stays known that was known, so that only what it took has to be gone through.
    const sums = this.sumsOf({ icp: gained(icp, this.headline.icp), cpp: gained(cpp, this.headline.cpp) });
    sums.icp.add(this.headlineSums.icp);
    sums.cpp.add(this.headlineSums.cpp);
    return sums;
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
