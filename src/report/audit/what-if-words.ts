import type { AuditWhatIf, RatedResult, WhatIfCellResult } from '../results-audit-what-if.js';
import type { EstimateResult } from '../results-estimate.js';
import { counted, listed, NONE, share } from '../words.js';
import { shortNumber } from './what-if-maps.js';

export type Setting = Pick<WhatIfCellResult, 'limitMmHg' | 'delaySeconds'>;

/** `2`, `0.5`. */
export const minutesOf = (seconds: number): string => String(Number((seconds / 60).toFixed(2)));

/** `5 min`, `20 s`: a delay of seconds is written so. */
const delayWords = (delaySeconds: number): string =>
  delaySeconds % 60 === 0 || delaySeconds > 600 ? `${minutesOf(delaySeconds)} min` : `${delaySeconds} s`;

/** `20 mmHg without delay`, `22 mmHg with 5 min of delay`. */
export const settingName = ({ limitMmHg, delaySeconds }: Setting): string =>
  delaySeconds === 0
    ? `${limitMmHg} mmHg without delay`
    : `${limitMmHg} mmHg with ${delayWords(delaySeconds)} of delay`;

export const isSame = (a: Setting, b: Setting): boolean =>
  a.limitMmHg === b.limitMmHg && a.delaySeconds === b.delaySeconds;

/** A figure with its interval in brackets: `4.1 (3.0 to 5.2)`; the figure alone where it has none. */
function withBounds({ value, lower, upper }: EstimateResult, text: (value: number) => string): string {
  if (value === null) return NONE;
  return lower === null || upper === null ? text(value) : `${text(value)} (${text(lower)} to ${text(upper)})`;
}

export const alarmsWords = (estimate: EstimateResult): string => withBounds(estimate, shortNumber);

/** `93 % (88 to 97)`. */
export const shareWords = (estimate: EstimateResult): string =>
  withBounds(estimate, share).replace(/ %(?= to )/, '');

/** What the setting makes of raw ICP. */
export const rawCell = (part: AuditWhatIf, setting: Setting): WhatIfCellResult =>
  part.raw.find((cell) => isSame(cell, setting)) as WhatIfCellResult;

/** `raised 4.1 alarms a patient-day and told of 40 of 43 sustained episodes`; as much of it as is known. */
function doesWords(part: AuditWhatIf, { alarmsPerDay, episodesCaught }: WhatIfCellResult): string | null {
  const does = [
    ...(alarmsPerDay === null ? [] : [`raised ${shortNumber(alarmsPerDay)} alarms a patient-day`]),
    ...(episodesCaught === null || part.episodes === null
      ? []
      : [`told of ${episodesCaught} of ${counted(part.episodes, 'sustained episode')}`]),
  ];
  return does.length === 0 ? null : listed(does);
}

/** What the present setting would have done, and what fewer alarms would have done as much; for the head of the section. */
export function whatIfAnswer(part: AuditWhatIf): string {
  const { present, presentRated, againstPresent, episodes } = part;
  if (episodes === 0) {
    return 'There is no sustained episode of ICP, so nothing can be said of what a setting catches; alarms alone can be compared.';
  }
  if (present === null) {
    return 'The pipeline file does not say how the monitors are set, so settings are compared with each other only.';
  }
  if (presentRated === null) {
    return `The present setting, ${settingName(present)}, is none of those that were tried, so settings are compared with each other only.`;
  }
  const now = rawCell(part, present);
  const does = doesWords(part, now);
  const first =
    does === null
      ? `What the present setting, ${settingName(present)}, makes of this ICP is not shown.`
      : `On this ICP the present setting, ${settingName(present)}, would have ${does}.`;
  const fewest = againstPresent?.fewestAlarms ?? null;
  if (fewest === null) return first;
  if (isSame(fewest, present)) {
    return `${first} No other setting that was tried catches as many with fewer alarms.`;
  }
  const other = rawCell(part, fewest);
  const many = other.alarmsPerDay === null ? '' : `, with ${shortNumber(other.alarmsPerDay)} a patient-day`;
  const later =
    other.medianNoticeMinutes === null || now.medianNoticeMinutes === null
      ? ''
      : `; the median time to the notice is then ${shortNumber(other.medianNoticeMinutes)} min instead of ${shortNumber(now.medianNoticeMinutes)} min`;
  return `${first} The setting with the fewest alarms that still catches as many is ${settingName(fewest)}${many}${later}.`;
}

/** How many of the alarms of the present setting are artifacts' doing. */
export function artifactWords(part: AuditWhatIf): string | null {
  if (part.present === null || part.presentRated === null) return null;
  const { present } = part;
  const cleaned = part.cleaned.find((cell) => isSame(cell, present));
  const raw = rawCell(part, present);
  if (raw.alarmsPerDay === null || !cleaned || cleaned.alarmsPerDay === null) return null;
  return `With the present setting these are ${shortNumber(cleaned.alarmsPerDay)} alarms a patient-day, and ${shortNumber(raw.alarmsPerDay)} with artifacts in.`;
}

/** `25 mmHg from 14 min, 26 mmHg from 12 min, 28 to 30 mmHg with any delay`: which settings miss an episode. */
export function missedWords(
  { limitsMmHg, delaysSeconds }: AuditWhatIf,
  missedFrom: NonNullable<AuditWhatIf['missedLong']>[number]['missedFrom'],
): string {
  const groups: { from: number; to: number; delaySeconds: number }[] = [];
  for (const { limitMmHg, delaySeconds } of missedFrom) {
    const last = groups.at(-1);
    const isNext = last && limitsMmHg.indexOf(limitMmHg) === limitsMmHg.indexOf(last.to) + 1;
    if (last && isNext && last.delaySeconds === delaySeconds) last.to = limitMmHg;
    else groups.push({ from: limitMmHg, to: limitMmHg, delaySeconds });
  }
  return groups
    .map(({ from, to, delaySeconds }) => {
      const limits = from === to ? `${from} mmHg` : `${from} to ${to} mmHg`;
      return `${limits} ${delaySeconds === delaysSeconds[0] ? 'with any delay' : `from ${minutesOf(delaySeconds)} min`}`;
    })
    .join(', ');
}

/**
 * The choices that are listed, of those whose counts are shown: what catches as many as the present setting, or as the most
 * that any catches. Null where masked counts do not tell how many that is.
 */
export function listedChoices(part: AuditWhatIf): readonly RatedResult[] | null {
  const caught = part.choices.map((one) => rawCell(part, one).episodesCaught);
  const asked = part.presentRated === null ? caught : [rawCell(part, part.presentRated).episodesCaught];
  if (asked.includes(null)) return null;
  const least = Math.max(0, ...asked.map(Number));
  return part.choices.filter((_, i) => (caught[i] ?? -1) >= least);
}
