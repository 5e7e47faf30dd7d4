import type { AuditTime, MeasureResult } from '../results-audit-time.js';
import { hiddenParts, MASKED } from './mask.js';
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

/** Which points tell of few, or would tell it of another together with the whole, which is shown elsewhere. */
function telling({ measure, points }: MeasureResult, below: number): boolean[] {
  if (measure === 'monitoredDays') return points.map(() => false);
  const parts =
    measure === 'medianMinutesToTreatment'
      ? [points.map(({ size }) => size)]
      : measure === 'alarmsPerDay'
        ? [points.map(({ count }) => count)]
        : [
            points.map(({ count }) => count),
            points.map(({ size }) => size),
            points.map(({ count, size }) => (count === null || size === null ? null : size - count)),
          ];
  // A point without a value has nothing to hide.
  const lists = parts.map((list) =>
    hiddenParts(
      list.map((n) => n ?? 0),
      below,
    ),
  );
  return points.map(({ value }, i) => value !== null && lists.some((hidden) => hidden[i]));
}

function maskMeasure(measure: MeasureResult, per: AuditTime['per'], below: number): MeasureResult {
  const isTelling = telling(measure, below);
  const hidden = new Set(measure.points.filter((_, i) => isTelling[i]).map(({ start }) => start));
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
