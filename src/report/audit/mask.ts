import type { EstimateResult } from '../results-estimate.js';
import { isSmall, maskCounts } from './mask-counts.js';

/** Stands where a figure rests on few. */
export const MASKED = 'masked';

export const maskedEstimate: EstimateResult = { value: null, lower: null, upper: null, reason: MASKED };

/** True of a count that has to be hidden, or is. */
export const isHidden = (count: number | null, below: number): boolean =>
  count === null || isSmall(count, below);

/** Which parts of a sum that is shown have to be hidden; null in the parts is hidden already. */
export function hiddenParts(parts: readonly (number | null)[], below: number): boolean[] {
  const counts = parts.map((part) => part ?? 0);
  const masked = maskCounts(counts, below, { alsoHidden: (i) => parts[i] === null });
  return parts.map((part, i) => part === null || masked === null || masked[i] === null);
}

/** A reason without the number of patients that stands in it. */
export function withoutNumbers({ reason, ...figures }: EstimateResult): EstimateResult {
  return reason === undefined ? figures : { ...figures, reason: reason.replace(/, and there are .*$/, '') };
}
