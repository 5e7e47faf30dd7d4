import type { Figure } from '../figure.js';
import { type Estimate, noBounds, noEstimate } from './estimate.js';

/** Shares this close are the same: they are products of many factors. As R's survfit. */
export const ALIKE = Math.sqrt(Number.EPSILON);

export const NOBODY = 'there is nobody to follow';
export const NONE_YET = 'nothing had happened by then, so that nothing tells how far off the share may be';
export const TO_ALL = 'it had happened to all by then, so that nothing tells how far off the share may be';
const NOT_HALF = 'it did not come to one half while they were followed';
const BOUND_NOT_HALF = 'the bound of the curve did not come to one half while they were followed';

/** The share to whom something happened by a time, with its interval; it holds until the next step. */
export interface ShareStep extends Estimate {
  readonly time: number;
  readonly value: number;
}

/** The share to whom something happened as it rises with time; 0 before the first step. */
export class EventCurve {
  /**
   * @param steps by time
   * @param isToTheEnd whether all had an event by the last time, so that nothing can change after it
   */
  constructor(
    private readonly steps: readonly ShareStep[],
    private readonly isToTheEnd: boolean,
  ) {}

  /**
   * When the share comes to one half: the first time at which it does; where it stays on one half for a while, the
   * middle between that time and its next rise, and that time where there is none. Its interval is where the bounds do
   * the same. The convention of R's `summary(survfit(...))`.
   */
  median(): Estimate {
    if (this.steps.length === 0) return noEstimate(NOBODY);
    return {
      value: this.timeOfHalf('value', NOT_HALF),
      lower: this.timeOfHalf('upper', BOUND_NOT_HALF),
      upper: this.timeOfHalf('lower', BOUND_NOT_HALF),
    };
  }

  /** The share by a time; reasons after the last time, unless all had an event by then. */
  shareBy(time: number): Estimate {
    const end = this.steps.at(-1);
    if (end === undefined) return noEstimate(NOBODY);
    if (time > end.time && !this.isToTheEnd)
      return noEstimate(`nobody was followed for longer than ${end.time}`);
    const step = this.steps.findLast((one) => one.time <= time);
    if (step === undefined) return { value: 0, ...noBounds(NONE_YET) };
    return { value: step.value, lower: step.lower, upper: step.upper };
  }

  private timeOfHalf(of: 'value' | 'lower' | 'upper', reason: string): Figure {
    const at = (step: ShareStep): number => {
      const figure = step[of];
      return typeof figure === 'number' ? figure : Number.NaN;
    };
    const first = this.steps.findIndex((step) => at(step) > 0.5 - ALIKE);
    if (first < 0) return { reason };
    const { time } = this.steps[first];
    const share = at(this.steps[first]);
    if (share - 0.5 >= ALIKE) return time;
    const next = this.steps.find((step, i) => i > first && at(step) > share);
    return next === undefined ? time : (time + next.time) / 2;
  }
}
