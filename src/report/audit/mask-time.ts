import type { AuditTime, MeasureResult } from '../results-audit-time.js';
import { isHidden, MASKED } from './mask.js';
import { limitWords } from './signal-words.js';

/**
 * Hides counts of points from 1 to under `below`, the values and limits of such points, and values from which such counts
 * could be read. Medians, limits of the others and signals rest on all points as before.
 */
export const maskTime = (part: AuditTime, below: number): AuditTime => ({
  ...part,
  maskedBelow: below,
  measures: part.measures.map((measure) => maskMeasure(measure, part.per, below)),
});

/** True where a point tells of few. */
function isTelling(
  { measure }: MeasureResult,
  { count, size }: MeasureResult['points'][number],
  below: number,
): boolean {
  if (measure === 'monitoredDays' || size === null || size === 0) return false;
  if (measure === 'medianMinutesToTreatment') return isHidden(size, below);
  if (measure === 'alarmsPerDay') return isHidden(count, below);
  return [count, size, count === null ? null : size - count].some((n) => isHidden(n, below));
}

function maskMeasure(measure: MeasureResult, per: AuditTime['per'], below: number): MeasureResult {
  const hidden = new Set(
    measure.points.filter((point) => isTelling(measure, point, below)).map(({ start }) => start),
  );
  if (hidden.size === 0) return measure;
  return {
    ...measure,
    points: measure.points.map((point) =>
      hidden.has(point.start)
        ? {
            start: point.start,
            count: null,
            // Monitored days tell of nobody; alarms and episodes do.
            size: measure.measure === 'alarmsPerDay' ? point.size : null,
            value: null,
            valueReason: MASKED,
          }
        : point,
    ),
    leftOut: measure.points.filter(({ start, value }) => value === null || hidden.has(start)).length,
    views: measure.views.map((view) => {
      const limits = view.limits.filter(({ start }) => !hidden.has(start));
      const says = limitWords({ limits, limitsReason: view.limitsReason }, per);
      const isCut = limits.length < view.limits.length && view.limitsReason === null;
      return { ...view, limits, limitsSay: isCut ? `${says} (of the ${per}s that are shown)` : says };
    }),
  };
}
