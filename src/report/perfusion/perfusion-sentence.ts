import type { Targets } from '../../summarize/targets.js';
import { noCppWords } from '../morning/no-cpp-words.js';
import { cannotSayText } from '../morning/patient-sentence.js';
import type { RecordingResult } from '../results-schema.js';
import { duration, pressure } from '../words.js';
import { hasOwnTarget, targetName } from './own-target.js';
import { plainWhy } from './plain-why.js';
import { prxInShort } from './prx-in-short.js';

type Word = 'night' | 'period';

/** CPP that is known for less of the time that ICP is known than this is told with how long it is known. */
const MOSTLY = 0.5;

/** `CPP averaged 68 mmHg and was below 60 for 1 h 20 min; for 25 min ICP was above 22 at the same time.` */
function cppWords(result: RecordingResult, targets: Targets): string {
  const { cpp, decimals, monitoredHours, perfusion } = result;
  if (cpp.meanMmHg === null || cpp.hoursBelowFloor === null) {
    return monitoredHours.cpp > 0
      ? `CPP cannot be summed up: ${plainWhy(cpp.meanMmHgReason ?? cpp.hoursBelowFloorReason, 'ICP or MAP')}.`
      : `CPP is not known: ${noCppWords(result)}.`;
  }
  const isLittle = monitoredHours.cpp < MOSTLY * monitoredHours.icp;
  const of = isLittle ? ` of the ${duration(monitoredHours.cpp)} over which it is known` : '';
  const low =
    cpp.hoursBelowFloor === 0
      ? `was never below ${targets.cppFloorMmHg}${isLittle ? ` in the ${duration(monitoredHours.cpp)} over which it is known` : ''}`
      : `was below ${targets.cppFloorMmHg} for ${duration(cpp.hoursBelowFloor)}${of}`;
  const both = cpp.hoursBelowFloor === 0 ? null : perfusion.joint.bothHours;
  const joint =
    both === null
      ? ''
      : both === 0
        ? `; ICP was never above ${targets.icpThresholdMmHg} at the same time`
        : `; for ${duration(both)} ICP was above ${targets.icpThresholdMmHg} at the same time`;
  const target =
    hasOwnTarget(result) && result.lowCpp.hours !== null
      ? ` It was below ${targetName(result)} for ${duration(result.lowCpp.hours)}.`
      : '';
  return `CPP averaged ${pressure(cpp.meanMmHg, decimals.cpp)} mmHg and ${low}${joint}.${target}`;
}

/** PRx, or where there is none the variant from minute data, with the reason. */
function indexWords({ perfusion, monitoredHours }: RecordingResult): string[] {
  const { prx, minuteIndex, limit, prxDoubt } = perfusion;
  // Without CPP there is mostly no index either, and one reason is enough; what cannot be judged is told first of all.
  const isNone = prx.mean === null && minuteIndex.mean === null;
  if (prxDoubt !== null || monitoredHours.map === 0 || (monitoredHours.cpp === 0 && isNone)) return [];
  const ofMinutes = prx.mean === null && minuteIndex.mean !== null ? [minuteIndex.sentence] : [];
  return [prxInShort(prx, limit), ...ofMinutes];
}

/** The patient's period in plain words: what cannot be trusted first, then perfusion, then autoregulation. */
export function perfusionSentence(result: RecordingResult, targets: Targets, word: Word): string {
  const { prxDoubt } = result.perfusion;
  const ofPrx = prxDoubt === null ? '' : `${prxDoubt} `;
  const parts = [cppWords(result, targets), ...indexWords(result)];
  const doubt = cannotSayText(result, word);
  if (doubt === '') return `${ofPrx}${parts.join(' ')}`;
  if (result.monitoredHours.icp === 0) return doubt;
  return `${ofPrx}${doubt} ${result.cpp.meanMmHg === null ? '' : 'In what is known: '}${parts.join(' ')}`;
}
