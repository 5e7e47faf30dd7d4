import { insist } from './estimate.js';

/** What happens at one time. */
export interface RiskRow {
  readonly time: number;
  /** Still followed and without an event just before. */
  readonly atRisk: number;
  /** By cause: the first is cause 1. */
  readonly events: readonly number[];
  readonly censored: number;
}

/**
 * Who is at risk and what happens at each different time. Whose observation ends at a time counts as at risk at it, so
 * events come before ends of observation at the same time.
 *
 * @param times from the start to the event or to the end of observation; finite and not negative, in any order
 * @param causes what ended each: 0 = observation ended without an event, else 1 to `causeCount`
 * @returns by time, each once
 * @throws RangeError where lists differ in length or hold something else
 */
export function riskTable(
  times: ArrayLike<number>,
  causes: ArrayLike<number>,
  causeCount: number,
): RiskRow[] {
  const n = times.length;
  insist(causes.length === n, `a cause for each of ${n} times, and got ${causes.length}`);
  const order = Uint32Array.from({ length: n }, (_, i) => i).sort((a, b) => times[a] - times[b]);
  const rows: RiskRow[] = [];
  for (let k = 0; k < n; ) {
    const time = times[order[k]];
    const atRisk = n - k;
    const counts = new Array<number>(causeCount + 1).fill(0);
    for (; k < n && times[order[k]] === time; k++) counts[causeAt(causes, order[k], causeCount)]++;
    insist(
      time >= 0 && time < Number.POSITIVE_INFINITY,
      `finite times that are not negative, and got ${time}`,
    );
    rows.push({ time, atRisk, events: counts.slice(1), censored: counts[0] });
  }
  return rows;
}

function causeAt(causes: ArrayLike<number>, i: number, causeCount: number): number {
  const cause = causes[i];
  const isOne = Number.isInteger(cause) && cause >= 0 && cause <= causeCount;
  insist(isOne, `causes that are whole numbers from 0 to ${causeCount}, and got ${cause}`);
  return cause;
}
