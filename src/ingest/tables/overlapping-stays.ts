import { shorten } from '../../recording/problem.js';
import type { ZoneClock } from '../../recording/zone.js';
import { CellFault } from './cell-fault.js';
import type { Stay } from './stay.js';

const endOf = ({ toUtcMs }: Stay): number => toUtcMs ?? Number.POSITIVE_INFINITY;

/** A bed's label as it is compared: `Bed 4` is `4`. */
export const bedLabel = (bed: string): string =>
  bed
    .toLowerCase()
    .replace(/\s+/g, ' ')
    .trim()
    .replace(/^(?:bed|bett)[ -]?(?=\S)/, '');

/** True where both are the same, or one of them is not said. */
export const maybeSameUnit = (a: string | null, b: string | null): boolean =>
  a === null || b === null || a.toLowerCase() === b.toLowerCase();

const placed = (stay: Stay, other: Stay): string =>
  stay.file === other.file ? `line ${stay.line}` : `line ${stay.line} of ${stay.file}`;

const FIX = 'A bed holds one patient: correct the times, or fill in when the first one left.';

/**
 * Stays of two patients in one bed at the same time, each with the reason: nobody can say which is right. A stay that
 * ends as the next begins does not overlap it.
 */
export function overlappingStays(stays: readonly Stay[], clock: ZoneClock): Map<Stay, CellFault> {
  const faults = new Map<Stay, CellFault>();
  const byBed = new Map<string, Stay[]>();
  for (const stay of stays) {
    const label = bedLabel(stay.bed);
    byBed.set(label, [...(byBed.get(label) ?? []), stay]);
  }
  for (const inBed of byBed.values()) {
    const ordered = inBed.sort((a, b) => a.fromUtcMs - b.fromUtcMs || a.line - b.line);
    for (const [i, stay] of ordered.entries()) {
      for (let j = i + 1; j < ordered.length && ordered[j].fromUtcMs < endOf(stay); j++) {
        const next = ordered[j];
        if (next.patient === stay.patient || !maybeSameUnit(stay.unit, next.unit)) continue;
        for (const [one, other] of [
          [stay, next],
          [next, stay],
        ]) {
          const what = `patient "${shorten(one.patient)}" lies in bed "${shorten(one.bed)}" at the same time as patient "${shorten(other.patient)}" on ${placed(other, one)}, from ${clock.format(next.fromUtcMs)}`;
          if (!faults.has(one)) faults.set(one, new CellFault(what, FIX, 'conflict'));
        }
      }
    }
  }
  return faults;
}
