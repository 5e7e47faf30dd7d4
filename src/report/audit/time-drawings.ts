import { timeMeasureSpec } from '../charts/audit-time.js';
import type { Draw } from '../charts/spec.js';
import type { AuditTime, MeasureResult } from '../results-audit-time.js';

/** The charts over time, as SVG, by measure; those of which nothing is known are missing. */
export type TimeDrawings = ReadonlyMap<MeasureResult['measure'], string>;

/** Draws each measure that has a value at any point. */
export async function drawTime(part: AuditTime, draw: Draw): Promise<TimeDrawings> {
  const drawn = new Map<MeasureResult['measure'], string>();
  for (const measure of part.measures) {
    if (measure.points.every(({ value }) => value === null)) continue;
    drawn.set(measure.measure, await draw(timeMeasureSpec(part, measure), `time-${measure.measure}`));
  }
  return drawn;
}
