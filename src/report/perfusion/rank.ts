import type { Absent } from '../morning/rank.js';
import type { UnitRecording } from '../results-schema.js';
import { byPatientId } from '../words.js';
import { isDoubtful } from './cannot-say.js';

/** Less of it is a moment, which must not outrank hours of low CPP. Own convention. */
export const LEAST_JOINT_HOURS = 5 / 60;

const UNKNOWN = Number.POSITIVE_INFINITY;

/**
 * Hours with ICP high and CPP low at once. Where a person decided, the rules alone would have no more of them than of the
 * shorter of the two: that counts where it is longer, so that no decision makes a patient sink.
 */
function worstJoint({ perfusion, cleaning: { withoutDecisions, decisionEffect } }: UnitRecording): number {
  if ((decisionEffect?.cannotSayByRules.length ?? 0) > 0) return UNKNOWN;
  const byRules = withoutDecisions
    ? Math.min(withoutDecisions.icpHoursAboveThreshold, withoutDecisions.cppHoursBelowFloor)
    : 0;
  const hours = Math.max(perfusion.joint.bothHours ?? 0, byRules);
  return hours < LEAST_JOINT_HOURS ? 0 : hours;
}

const worstDose = ({ cpp, cleaning: { withoutDecisions } }: UnitRecording): number =>
  Math.max(cpp.doseBelowFloorMmHgHours ?? 0, withoutDecisions?.cppDoseBelowFloorMmHgHours ?? 0);

const descending = (a: number, b: number): number => (a === b ? 0 : a > b ? -1 : 1);

/**
 * Patients as the page of perfusion lists them: first those of whom nobody can say how they were perfused; then by hours
 * with ICP high and CPP low at once, the most first, under 5 min counting as none, and by the CPP dose below the floor where
 * these are equal.
 */
export function rankByPerfusion(recordings: readonly UnitRecording[], absent: readonly Absent[]): string[] {
  const doubtful = recordings.filter(isDoubtful);
  const judged = recordings
    .filter((one) => !isDoubtful(one))
    .sort(
      (a, b) =>
        descending(worstJoint(a), worstJoint(b)) ||
        descending(worstDose(a), worstDose(b)) ||
        byPatientId(a.id, b.id),
    );
  const cannotSay = [...doubtful, ...absent].map(({ id }) => id).sort(byPatientId);
  return [...cannotSay, ...judged.map(({ id }) => id)];
}
