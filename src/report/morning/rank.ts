import type { UnitRecording } from '../results-schema.js';
import { byPatientId } from '../words.js';

/** A patient without figures: no data, or exports that could not be used. */
export interface Absent {
  readonly id: string;
  readonly why: string;
}

/**
 * Patients as the unit page lists them: first those of whom nobody can say how they were, since silence is no good
 * news; then by ICP dose, the largest first, and by CPP dose below the floor where the ICP dose is equal. Where a person
 * decided, the worse of the doses counts, as decided and by the rules alone; of whom the rules alone could not say, and a
 * person could, stands first of these: no decision makes a patient sink.
 */
export function rankPatients(recordings: readonly UnitRecording[], absent: readonly Absent[]): string[] {
  const [doubtful, rest] = [
    recordings.filter(({ cannotSay }) => cannotSay.length > 0),
    recordings.filter(({ cannotSay }) => cannotSay.length === 0),
  ];
  const cannotSay = [...doubtful.map(({ id }) => id), ...absent.map(({ id }) => id)].sort(byPatientId);
  const judged = rest.toSorted(
    (a, b) =>
      descending(worstIcp(a), worstIcp(b)) || descending(worstCpp(a), worstCpp(b)) || byPatientId(a.id, b.id),
  );
  return [...cannotSay, ...judged.map(({ id }) => id)];
}

const UNKNOWN = Number.POSITIVE_INFINITY;

const worstIcp = ({ icp, cleaning: { withoutDecisions, decisionEffect } }: UnitRecording): number =>
  (decisionEffect?.cannotSayByRules.length ?? 0) > 0
    ? UNKNOWN
    : Math.max(icp.doseMmHgHours ?? UNKNOWN, withoutDecisions?.icpDoseMmHgHours ?? 0);

const worstCpp = ({ cpp, cleaning: { withoutDecisions } }: UnitRecording): number =>
  Math.max(cpp.doseBelowFloorMmHgHours ?? 0, withoutDecisions?.cppDoseBelowFloorMmHgHours ?? 0);

const descending = (a: number, b: number): number => (a === b ? 0 : a > b ? -1 : 1);
