import type { Targets } from '../../summarize/targets.js';
import { goingOnNote } from '../episode-end.js';
import type { RecordingResult, UnitRecording } from '../results-schema.js';
import { counted, duration, fromTo, listed, pressure, share, timesOf } from '../words.js';
import { littleKnownWhy } from './little-known.js';
import { noCppWords } from './no-cpp-words.js';

type Word = 'night' | 'period';

/** `ICP was above 22 mmHg for 2 h of 12 h monitored, in 3 episodes (longest 19 min; ...)`. */
function icpSentence(result: RecordingResult, { icpThresholdMmHg }: Targets): string {
  const { icp, episodes, decimals, monitoredHours } = result;
  if (icp.hoursAboveThreshold === null) return `ICP cannot be summed up: ${icp.hoursAboveThresholdReason}.`;
  const monitored = `${duration(monitoredHours.icp)} monitored`;
  if (icp.hoursAboveThreshold === 0) {
    return `ICP was never above ${icpThresholdMmHg} mmHg in ${monitored}${leftOutWords(result)}.`;
  }
  const above = `ICP was above ${icpThresholdMmHg} mmHg for ${duration(icp.hoursAboveThreshold)} of ${monitored}`;
  if (result.episodesReason !== null) return `${above}.`;
  if (episodes.length === 0) return `${above}, never long enough for an episode.`;
  const longest = episodes.reduce((a, b) => (b.minutes > a.minutes ? b : a));
  const details = [
    `${episodes.length === 1 ? '' : 'longest '}${duration(longest.minutes / 60)} from ${timesOf(result.period)(longest.start)}`,
    ...(icp.highest5MinMmHg === null
      ? []
      : [`highest 5-min mean ${pressure(icp.highest5MinMmHg, decimals.icp)} mmHg`]),
  ];
  const note = goingOnNote(result, icpThresholdMmHg);
  const still = note === null ? '' : ` ${note}`;
  return `${above}, in ${counted(episodes.length, 'episode')} (${details.join('; ')}).${still}`;
}

/** ` after cleaning; as exported for 6 min, in what was left out`: where cleaning took all that was above. */
function leftOutWords({ icpRaw, cleaning }: RecordingResult): string {
  const hours = icpRaw.hoursAboveThreshold ?? 0;
  return cleaning.isOff || hours === 0
    ? ''
    : ` after cleaning (as exported for ${duration(hours)}, in what was left out)`;
}

/** CPP that is known for less of the time that ICP is known than this is told with how long it is known. */
const MOSTLY = 0.5;

function cppSentence(result: RecordingResult, { cppFloorMmHg }: Targets): string {
  const { cpp, decimals, monitoredHours } = result;
  if (cpp.hoursBelowFloor === null)
    return monitoredHours.cpp > 0 ? 'CPP is not known.' : `CPP is not known: ${noCppWords(result)}.`;
  const isLittle = monitoredHours.cpp < MOSTLY * monitoredHours.icp;
  const known = duration(monitoredHours.cpp);
  if (cpp.hoursBelowFloor === 0)
    return `CPP was never below ${cppFloorMmHg} mmHg${isLittle ? ` in the ${known} over which it is known` : ''}.`;
  const lowest =
    cpp.lowest5MinMmHg === null
      ? ''
      : `, lowest 5-min mean ${pressure(cpp.lowest5MinMmHg, decimals.cpp)} mmHg`;
  const of = isLittle ? ` of the ${known} over which it is known` : '';
  return `CPP was below ${cppFloorMmHg} mmHg for ${duration(cpp.hoursBelowFloor)}${of}${lowest}.`;
}

/** `not known from 20:30 to 04:30`: the longest stretch; empty where nothing is known at all. */
function unknownWords({ longestUnknown, knownShare, period }: UnitRecording): string {
  return longestUnknown === null || knownShare === 0
    ? ''
    : `not known from ${fromTo(longestUnknown, timesOf(period))}`;
}

/** Why nobody can say how the patient was; empty where one can. */
export function cannotSayText(result: UnitRecording, word: Word): string {
  const { cannotSay, knownShare, suspectHours } = result;
  if (cannotSay.length === 0) return '';
  const whys = [littleKnownWhy(result), unknownWords(result)].filter((why) => why !== '');
  const reasons = cannotSay.map((reason) =>
    reason === 'littleKnown'
      ? `ICP was known for ${share(knownShare)} of the ${word} only${whys.length === 0 ? '' : ` (${whys.join('; ')})`}`
      : `ICP is suspect for ${duration(suspectHours)} of the ${word}`,
  );
  return `Cannot say: ${listed(reasons)}.`;
}

/** The patient's period in plain words; what cannot be trusted comes first. */
export function patientSentence(result: RecordingResult, targets: Targets, word: Word): string {
  const parts = [icpSentence(result, targets), cppSentence(result, targets)];
  const doubt = cannotSayText(result, word);
  if (doubt === '') return parts.join(' ');
  // Of nothing there is nothing more to say.
  if (result.monitoredHours.icp === 0) return doubt;
  const known = result.icp.hoursAboveThreshold === null ? '' : 'In what is known: ';
  return `${doubt} ${known}${parts.join(' ')}`;
}
