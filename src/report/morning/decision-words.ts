import type { Targets } from '../../summarize/targets.js';
import type { RecordingResult } from '../results-schema.js';
import { counted, dose, duration, listed, seconds, share } from '../words.js';

const HOUR_MS = 3_600_000;

/** So many are named; the table of decisions on the page in detail names all. */
const MOST_NAMED = 4;

/** Who decided, each once: `A. B. and C. D.`, of many the first. */
export function reviewersOf(decisions: readonly { readonly reviewer: string }[]): string {
  const names = [...new Set(decisions.map(({ reviewer }) => reviewer))];
  return names.length <= MOST_NAMED + 1
    ? listed(names)
    : listed([...names.slice(0, MOST_NAMED), `${names.length - MOST_NAMED} others`]);
}

/** Hours past a limit and the dose, as a page prints them. */
export interface Burden {
  readonly hours: number | null;
  readonly dose: number | null;
}

/** True where a page prints the same of both. */
export const printsSame = (a: Burden, b: Burden): boolean =>
  duration(a.hours) === duration(b.hours) && dose(a.dose) === dose(b.dose);

/** `3 h (dose 219.0 mmHg·h), not < 1 min (0.1)`; what it is now is left out where nothing is known of it. */
export const otherBurden = (other: Burden, now: Burden): string =>
  `${duration(other.hours)} (dose ${dose(other.dose)} mmHg·h)${now.hours === null ? '' : `, not ${duration(now.hours)} (${dose(now.dose)})`}`;

/** `3 h of ICP taken out and 10 s of MAP put in`. */
function changeWords({ decisions, cleaning: { decisionEffect } }: RecordingResult): string {
  if (decisionEffect === null) return '';
  const { icpOutHours, icpInHours, mapOutHours, mapInHours } = decisionEffect;
  const changes = [
    [icpOutHours, 'of ICP taken out'],
    [icpInHours, 'of ICP put in'],
    [mapOutHours, 'of MAP taken out'],
    [mapInHours, 'of MAP put in'],
  ] as const;
  const words = changes.flatMap(([hours, what]) =>
    hours > 0 ? [`${seconds(hours * HOUR_MS)} ${what}`] : [],
  );
  return words.length > 0
    ? listed(words)
    : `${counted(decisions.length, 'stretch', 'stretches')}, and the figures rest on the same time as by the rules`;
}

/** `by the rules alone ICP would be above 22 mmHg for 3 h (dose 219.0 mmHg·h), not < 1 min (0.1)`; what prints the same is left out. */
function byRulesWords(result: RecordingResult, { icpThresholdMmHg, cppFloorMmHg }: Targets): string[] {
  const { icp, cpp, icpRaw, cppRaw, cleaning } = result;
  const { withoutDecisions: byRules } = cleaning;
  // What the signal as exported cannot show, as at a coarse sampling, it cannot show by the rules alone.
  if (byRules === null || icpRaw.hoursAboveThreshold === null) return [];
  const icpNow = { hours: icp.hoursAboveThreshold, dose: icp.doseMmHgHours };
  const icpByRules = { hours: byRules.icpHoursAboveThreshold, dose: byRules.icpDoseMmHgHours };
  const cppNow = { hours: cpp.hoursBelowFloor, dose: cpp.doseBelowFloorMmHgHours };
  const cppByRules = { hours: byRules.cppHoursBelowFloor, dose: byRules.cppDoseBelowFloorMmHgHours };
  return [
    ...(printsSame(icpByRules, icpNow)
      ? []
      : [`ICP would be above ${icpThresholdMmHg} mmHg for ${otherBurden(icpByRules, icpNow)}`]),
    ...(cppRaw.hoursBelowFloor === null || printsSame(cppByRules, cppNow)
      ? []
      : [`CPP would be below ${cppFloorMmHg} mmHg for ${otherBurden(cppByRules, cppNow)}`]),
  ];
}

/** `By the rules alone nobody could say: ICP is suspect for 5 h.`; empty where the decisions settled no doubt. */
function settledWords({ cannotSay, cleaning: { decisionEffect } }: RecordingResult): string {
  const settled = decisionEffect?.cannotSayByRules.filter((reason) => !cannotSay.includes(reason)) ?? [];
  if (decisionEffect === null || settled.length === 0) return '';
  const { knownShareByRules, suspectHoursByRules } = decisionEffect;
  const why = settled.map((reason) =>
    reason === 'littleKnown'
      ? `ICP known for ${share(knownShareByRules)} only`
      : `ICP suspect for ${duration(suspectHoursByRules)}`,
  );
  return `By the rules alone nobody could say how the patient was: ${listed(why)}.`;
}

/** Of a burden of what is hardly known nothing is worth a comparison. */
const isLittleByRules = ({ cleaning: { decisionEffect } }: RecordingResult): boolean =>
  decisionEffect?.cannotSayByRules.includes('littleKnown') ?? false;

/**
 * What a reader has to know before the figures where a person decided on some of the period: who, how much they took out
 * or put in, and the figures by the rules alone. Null where nobody decided anything.
 */
export function decisionNote(result: RecordingResult, targets: Targets): string | null {
  if (result.decisions.length === 0) return null;
  const byRules = byRulesWords(result, targets);
  const figures =
    byRules.length > 0
      ? `By the rules alone ${byRules.join('; ')}.`
      : result.icp.hoursAboveThreshold === null || isLittleByRules(result)
        ? ''
        : 'By the rules alone the burden would be the same.';
  const decided = `A person decided (${reviewersOf(result.decisions)}): ${changeWords(result)}.`;
  return [decided, figures, settledWords(result)].filter((words) => words !== '').join(' ');
}
