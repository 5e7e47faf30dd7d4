import type { Figure } from '../figure.js';
import { type Estimate, noBounds } from './estimate.js';
import { EventCurve, NONE_YET, TO_ALL } from './event-curve.js';
import { logLogBounds } from './log-log-bounds.js';
import { normalReach } from './normal-reach.js';
import { type RiskRow, riskTable } from './risk-table.js';

/** The curve from one time on. Times in the unit that they came in. */
export interface SurvivalStep {
  readonly time: number;
  readonly atRisk: number;
  readonly events: number;
  readonly censored: number;
  /** S(t): the share to whom it has not happened by this time. */
  readonly survival: number;
  /** Of S(t), after Greenwood. */
  readonly standardError: Figure;
  readonly lower: Figure;
  readonly upper: Figure;
}

/** A survival curve. */
export interface KaplanMeier {
  readonly count: number;
  readonly events: number;
  /** At each different time; S is 1 before the first. */
  readonly steps: readonly SurvivalStep[];
  /** The time by which it happened to half. */
  readonly median: Estimate;
  /** The share to whom it happened by a time, 1 - S(t); reasons after the last time, unless it happened to all. */
  shareBy(time: number): Estimate;
}

/**
 * Survival curve of times of which some are only known to be longer (right-censored), by Kaplan and Meier, with the
 * variance of Greenwood and intervals on the log(-log S) scale; the interval of the median is where the bounds of the
 * curve cross one half (Brookmeyer and Crowley). As R's `survfit(Surv(times, events) ~ 1, conf.type = "log-log")`.
 * Sources: Kaplan & Meier, J Am Stat Assoc 1958;53:457-81; Brookmeyer & Crowley, Biometrics 1982;38:29-41.
 *
 * @param times from the start to the event or to the end of observation; finite, not negative, in any order and unit
 * @param events true or 1 where it happened, false or 0 where observation ended before
 * @param level share of the intervals
 * @throws RangeError where lists differ in length or hold something else
 */
export function kaplanMeier(
  times: ArrayLike<number>,
  events: ArrayLike<number | boolean>,
  level = 0.95,
): KaplanMeier {
  const z = normalReach(level);
  const steps = stepsOf(riskTable(times, Array.from(events, Number), 1), z);
  const oneMinus = (figure: Figure): Figure => (typeof figure === 'number' ? 1 - figure : figure);
  const curve = new EventCurve(
    steps.map(({ time, survival, lower, upper }) => ({
      time,
      value: 1 - survival,
      lower: oneMinus(upper),
      upper: oneMinus(lower),
    })),
    steps.at(-1)?.survival === 0,
  );
  return {
    count: times.length,
    events: steps.reduce((sum, step) => sum + step.events, 0),
    steps,
    median: curve.median(),
    shareBy: (time) => curve.shareBy(time),
  };
}

function stepsOf(rows: readonly RiskRow[], z: number): SurvivalStep[] {
  let survival = 1;
  let greenwood = 0;
  return rows.map(({ time, atRisk, events: [events], censored }) => {
    // Where all who are left have the event this is 0 exactly.
    survival *= (atRisk - events) / atRisk;
    if (events > 0) greenwood += events / (atRisk * (atRisk - events));
    const standardError = survival * Math.sqrt(greenwood);
    const bounds =
      survival === 0 ? noBounds(TO_ALL) : (logLogBounds(survival, standardError, z) ?? noBounds(NONE_YET));
    return {
      time,
      atRisk,
      events,
      censored,
      survival,
      standardError: survival === 0 ? { reason: TO_ALL } : standardError,
      lower: bounds.lower,
      upper: bounds.upper,
    };
  });
}
