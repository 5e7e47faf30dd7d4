import type { Figure } from '../figure.js';
import { type Estimate, insist, noBounds } from './estimate.js';
import { EventCurve, NONE_YET, TO_ALL } from './event-curve.js';
import { logLogBounds } from './log-log-bounds.js';
import { normalReach } from './normal-reach.js';
import { type RiskRow, riskTable } from './risk-table.js';
import { ALL_BUT_ROUNDING } from './rounding.js';

/** The curve of one cause from one time on. Times in the unit that they came in. */
export interface IncidenceStep {
  readonly time: number;
  /** Followed and without any event just before. */
  readonly atRisk: number;
  /** Events of this cause at this time. */
  readonly events: number;
  /** The share to whom this cause has happened first by this time. */
  readonly incidence: number;
  readonly standardError: number;
  readonly lower: Figure;
  readonly upper: Figure;
}

/** How often one cause comes first. */
export interface Incidence {
  readonly events: number;
  /** At each different time; the incidence is 0 before the first. */
  readonly steps: readonly IncidenceStep[];
  /** When this cause has happened to half of all. */
  readonly median: Estimate;
  /** The share to whom this cause happened by a time; reasons after the last time, unless something happened to all. */
  shareBy(time: number): Estimate;
}

/** Cumulative incidences; at each time they and the share without any event add up to 1. */
export interface AalenJohansen {
  readonly count: number;
  /** Without any event until observation ended. */
  readonly censored: number;
  /** The first is that of cause 1. */
  readonly incidences: readonly Incidence[];
}

/**
 * Cumulative incidence of events of which only the first counts (competing events), by Aalen and Johansen. The variance
 * is the infinitesimal jackknife, the sum of squared influences of each on the curve, which for times of one event each
 * is the variance of Greenwood's kind; intervals are on the log(-log F) scale. As R's
 * `survfit(Surv(times, factor(causes)) ~ 1, conf.type = "log-log")`. With one cause the curve is 1 - S(t) of Kaplan and
 * Meier with the same standard error; the intervals differ a little, since their scale is that of F and not that of S.
 * Source: Aalen & Johansen, Scand J Stat 1978;5:141-50.
 *
 * @param times from the start to the first event or to the end of observation; finite, not negative, in any order and unit
 * @param causes 0 where observation ended without an event, else the cause: 1, 2 ...
 * @param causeCount how many causes there are, whether or not each happened
 * @param level share of the intervals
 * @throws RangeError where lists differ in length or hold something else
 */
export function aalenJohansen(
  times: ArrayLike<number>,
  causes: ArrayLike<number>,
  causeCount: number,
  level = 0.95,
): AalenJohansen {
  insist(Number.isInteger(causeCount) && causeCount >= 1, `one cause or more, and got ${causeCount}`);
  const z = normalReach(level);
  const rows = riskTable(times, causes, causeCount);
  const last = rows.at(-1);
  const isToTheEnd = last !== undefined && last.censored === 0;
  return {
    count: times.length,
    censored: rows.reduce((sum, row) => sum + row.censored, 0),
    incidences: Array.from({ length: causeCount }, (_, k) => incidenceOf(stepsOf(rows, k, z), isToTheEnd)),
  };
}

function incidenceOf(steps: readonly IncidenceStep[], isToTheEnd: boolean): Incidence {
  const curve = new EventCurve(
    steps.map(({ time, incidence, lower, upper }) => ({ time, value: incidence, lower, upper })),
    isToTheEnd,
  );
  return {
    events: steps.reduce((sum, step) => sum + step.events, 0),
    steps,
    median: curve.median(),
    shareBy: (time) => curve.shareBy(time),
  };
}

/** Of the cause with the index `k` in the rows. */
function stepsOf(rows: readonly RiskRow[], k: number, z: number): IncidenceStep[] {
  let [free, incidence] = [1, 0];
  // Sums of squared influences on `free` and on `incidence`, and of their products. What is added at different times is
  // orthogonal, so the sums are carried from time to time and the influences of each never needed.
  let [varFree, covariance, varIncidence] = [0, 0, 0];
  return rows.map(({ time, atRisk, events }) => {
    const any = events.reduce((sum, n) => sum + n, 0);
    const hazard = events[k] / atRisk;
    const stay = (atRisk - any) / atRisk;
    const added = (free * free) / atRisk;
    varIncidence += 2 * hazard * covariance + hazard * hazard * varFree + added * hazard * (1 - hazard);
    covariance = stay * (covariance + hazard * varFree - added * hazard);
    varFree = stay * stay * varFree + added * stay * (1 - stay);
    incidence += free * hazard;
    free *= stay;
    if (incidence > ALL_BUT_ROUNDING) [incidence, varIncidence] = [1, 0];
    const standardError = Math.sqrt(Math.max(0, varIncidence));
    const bounds = logLogBounds(incidence, standardError, z) ?? noBounds(incidence === 0 ? NONE_YET : TO_ALL);
    return {
      time,
      atRisk,
      events: events[k],
      incidence,
      standardError,
      lower: bounds.lower,
      upper: bounds.upper,
    };
  });
}
