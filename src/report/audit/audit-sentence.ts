import type { AuditResult } from '../results-audit.js';
import { counted, day, share } from '../words.js';
import { countWord } from './count-words.js';
import { rate } from './estimate-words.js';
import { type ShortColumn, sideColumns, wholeColumns } from './short-columns.js';

const NAMES = { icp: 'ICP', cpp: 'CPP' } as const;

/** What the sentence is made of. */
export type Told = Pick<AuditResult, 'alarms' | 'response' | 'sides'>;

/** `12 a monitored patient-day, 15 % with a sustained episode (18 % with those that a treatment cut short), 56 % artifacts`. */
function alarmFigures(column: ShortColumn, hasCare: boolean): string {
  const { perDay, sustained, sustainedOrCutShort, artifactShare } = column;
  const both = hasCare && sustained.value !== null ? sustainedOrCutShort.value : null;
  return [
    perDay.value === null ? null : `${rate(perDay.value)} a monitored patient-day`,
    sustained.value === null
      ? column.alarms !== null && column.alarms > 0
        ? 'what they were cannot be told'
        : null
      : `${share(sustained.value)} with a sustained episode${both === null ? '' : ` (${share(both)} with those that a treatment cut short)`}`,
    artifactShare === null ? null : `${share(artifactShare)} artifacts`,
  ]
    .filter((part) => part !== null)
    .join(', ');
}

/** Of one channel: over all the time, or on both sides of a marked change, since together they would describe neither. */
function alarmsOf(
  whole: ShortColumn,
  sides: readonly ShortColumn[],
  at: string | null,
  hasCare: boolean,
): string[] {
  const { channel, alarms } = whole;
  if (alarms === 0) return [];
  const count = alarms === null ? 'alarms' : counted(alarms, 'alarm');
  const [before, after] = sides;
  const figures =
    before && after && at !== null
      ? `before ${day(at)} ${alarmFigures(before, hasCare) || 'none'}; from then on ${alarmFigures(after, hasCare) || 'none'}`
      : alarmFigures(whole, hasCare);
  return [`${NAMES[channel]}: ${count}${figures === '' ? '' : `, ${figures}`}.`];
}

/** `14 min (95 % interval 9.6 to 18)`; null where it is not known. */
function medianWords({ clocks }: ShortColumn): string | null {
  const median = clocks.treated?.medianMinutes;
  if (!median || median.value === null) return null;
  const { value, lower, upper } = median;
  const bounds = lower === null || upper === null ? '' : ` (95 % interval ${rate(lower)} to ${rate(upper)})`;
  return `${rate(value)} min${bounds}`;
}

/** `Of 140 sustained episodes of ICP 9 had no alarm and 7 a late one; the first treatment came after a median of 13 min.` */
function episodesOf(
  whole: ShortColumn,
  sides: readonly ShortColumn[],
  at: string | null,
  notices: AuditResult['alarms']['channels'][number]['notices'],
): string[] {
  const { channel, episodes, withoutAlarm: none, withLateAlarm: late } = whole;
  if (episodes === null || episodes === 0) return [];
  const reached = notices.inTime === null ? null : notices.inTime + (none ?? 0) + (late ?? 0);
  const isTold = none !== null && late !== null && reached !== 0;
  const [before, after] = sides;
  const medians = before && after && at !== null ? [medianWords(before), medianWords(after)] : [];
  const wholeMedian = medianWords(whole);
  const beyond =
    reached !== null && reached < episodes ? ` of the ${reached} that the alarm log reaches` : '';
  const parts = [
    isTold ? `${countWord(none)}${beyond} had no alarm and ${countWord(late)} a late one` : null,
    medians.length === 2 && medians.every((words) => words !== null)
      ? `the first treatment came after a median of ${medians[0]} before the change and ${medians[1]} from then on`
      : wholeMedian === null
        ? null
        : `the first treatment came after a median of ${wholeMedian}`,
  ].filter((part) => part !== null);
  const what = `${counted(episodes, 'sustained episode')} of ${NAMES[channel]}`;
  return [parts.length === 0 ? `There were ${what}.` : `Of ${what} ${parts.join('; ')}.`];
}

/** The same in lines for a page: how much was looked at, then the alarms and the episodes of each channel. */
export const answerLines = (sentence: string): string[] =>
  sentence.split(/(?<=\.) (?=(?:ICP|CPP): |Of \d+ sustained |There were \d|No (?:alarm|episode) )/);

/**
 * The answer on top of an audit's page.
 *
 * @param fewPatients the least number of patients that may be told; null where any may
 */
export function auditSentence(
  patients: number,
  told: Told,
  hasCare: boolean,
  fewPatients: number | null = null,
): string {
  const { alarms, response } = told;
  const whole = wholeColumns(told);
  const sides = sideColumns(told);
  const at = response.changed?.at ?? null;
  const days = whole.find(({ channel }) => channel === 'icp')?.monitoredDays ?? 0;
  const who =
    fewPatients !== null && patients < fewPatients
      ? `Fewer than ${fewPatients} patients`
      : counted(patients, 'patient');
  const lead = `${who}, ${rate(days)} monitored patient-days${alarms.log === null ? '' : ' while the alarm log reaches'}.`;
  const sidesOf = (channel: string): ShortColumn[] => sides.filter((one) => one.channel === channel);
  const ofAlarms =
    alarms.log === null
      ? []
      : whole.flatMap((column) => alarmsOf(column, sidesOf(column.channel), at, hasCare));
  const none =
    alarms.log !== null && ofAlarms.length === 0 ? ['No alarm of ICP or CPP could be judged.'] : [];
  const ofEpisodes = whole.flatMap((column, i) =>
    episodesOf(column, sidesOf(column.channel), at, alarms.channels[i].notices),
  );
  const noEpisode = whole.every(({ episodes }) => episodes === 0) ? ['No episode was sustained.'] : [];
  return [lead, ...ofAlarms, ...none, ...ofEpisodes, ...noEpisode].join(' ');
}
