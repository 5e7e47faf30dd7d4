import { noCppWords } from '../morning/no-cpp-words.js';
import { cannotSayText } from '../morning/patient-sentence.js';
import type { UnitRecording } from '../results-schema.js';
import { share } from '../words.js';

/** CPP known for less of the period than this says nothing of the whole. */
const LEAST_SHARE = 0.5;

/** CPP known, as a share of the period. */
export function cppKnownShare({ monitoredHours, period }: UnitRecording): number {
  const hours = (Date.parse(period.end) - Date.parse(period.start)) / 3_600_000;
  return hours > 0 ? Math.min(1, monitoredHours.cpp / hours) : 0;
}

/** True where nobody can say how the patient was perfused. */
export const isDoubtful = (result: UnitRecording): boolean =>
  result.cannotSay.length > 0 || result.cpp.meanMmHg === null || cppKnownShare(result) < LEAST_SHARE;

/**
 * True where it is the angle of the head of the bed that is missing and nothing else: CPP cannot be had for want of it, PRx
 * needs no level.
 */
export function isForWantOfAngle(result: UnitRecording): boolean {
  const { cannotSay, levelling, monitoredHours, period } = result;
  const hours = (Date.parse(period.end) - Date.parse(period.start)) / 3_600_000;
  return cannotSay.length === 0 && monitoredHours.cpp + levelling.unknownHours >= LEAST_SHARE * hours;
}

/** Why nobody can say how the patient was perfused; empty where one can. */
export function cannotSayPerfusion(result: UnitRecording, word: 'night' | 'period'): string {
  const { cpp, monitoredHours } = result;
  const ofIcp = cannotSayText(result, word);
  const ofCpp =
    cpp.meanMmHg === null
      ? monitoredHours.cpp > 0
        ? `CPP cannot be summed up: ${cpp.meanMmHgReason}`
        : `CPP is not known: ${noCppWords(result)}`
      : cppKnownShare(result) < LEAST_SHARE
        ? `CPP was known for ${share(cppKnownShare(result))} of the ${word} only`
        : '';
  if (ofIcp === '') return ofCpp === '' ? '' : `Cannot say: ${ofCpp}.`;
  return ofCpp === '' || monitoredHours.icp === 0 ? ofIcp : `${ofIcp} ${ofCpp}.`;
}
