import type { RecordingResult } from '../results-schema.js';
import { byPatientId } from '../words.js';

/** A patient without figures: no data, or exports that could not be used. */
export interface Absent {
  readonly id: string;
  readonly why: string;
}

/**
 * Patients as the unit page lists them: first those of whom nobody can say how they were, since silence is no good
 * news; then by ICP dose, the largest first, and by CPP dose below the floor where the ICP dose is equal.
 */
export function rankPatients(recordings: readonly RecordingResult[], absent: readonly Absent[]): string[] {
  const known = (figure: number | null): number => figure ?? Number.POSITIVE_INFINITY;
  const [doubtful, rest] = [
    recordings.filter(({ cannotSay }) => cannotSay.length > 0),
    recordings.filter(({ cannotSay }) => cannotSay.length === 0),
  ];
  const cannotSay = [...doubtful.map(({ id }) => id), ...absent.map(({ id }) => id)].sort(byPatientId);
  const judged = rest.toSorted(
    (a, b) =>
      descending(known(a.icp.doseMmHgHours), known(b.icp.doseMmHgHours)) ||
      descending(a.cpp.doseBelowFloorMmHgHours ?? 0, b.cpp.doseBelowFloorMmHgHours ?? 0) ||
      byPatientId(a.id, b.id),
  );
  return [...cannotSay, ...judged.map(({ id }) => id)];
}

const descending = (a: number, b: number): number => (a === b ? 0 : a > b ? -1 : 1);
