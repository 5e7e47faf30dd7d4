import type { AuditAlarms } from '../results-audit-alarms.js';
import type { AuditResponse, PeriodResult } from '../results-audit-response.js';
import { counted, share } from '../words.js';

const NAMES = { icp: 'ICP', cpp: 'CPP' } as const;

type OfChannel = AuditAlarms['channels'][number];

/** What is told of all the time, of one clock of one channel; undefined where nothing is. */
export const wholeTime = (
  { clocks }: AuditResponse,
  channel: OfChannel['channel'],
  clock: AuditResponse['clocks'][number]['clock'],
): PeriodResult | undefined =>
  clocks
    .find((one) => one.channel === channel && one.clock === clock)
    ?.periods.find(({ kind }) => kind === 'all');

const decimals = (value: number): string => (value >= 9.95 ? value.toFixed(0) : value.toFixed(1));

/** `ICP: 512 alarms, 6.2 a monitored patient-day, 34 % with a sustained episode (41 % with those cut short by a treatment), 28 % artifacts.` */
function alarmsOf(of: OfChannel, hasCare: boolean): string | null {
  const { channel, alarms, perDay, classes, sustained, sustainedOrCutShort } = of;
  if (alarms === 0) return null;
  const artifacts = classes.find(({ alarmClass }) => alarmClass === 'artifact')?.share ?? null;
  const alone = sustained.ofAll.byPatients.value;
  const both = sustainedOrCutShort.ofAll.byPatients.value;
  const parts = [
    alarms === null ? null : counted(alarms, 'alarm'),
    perDay.value === null ? null : `${decimals(perDay.value)} a monitored patient-day`,
    alone === null
      ? null
      : `${share(alone)} with a sustained episode${hasCare && both !== null ? ` (${share(both)} with those that a treatment cut short)` : ''}`,
    artifacts === null ? null : `${share(artifacts)} ${artifacts === 0 ? 'were' : 'are'} artifacts`,
  ].filter((part) => part !== null);
  return parts.length === 0 ? null : `${NAMES[channel]}: ${parts.join(', ')}.`;
}

/** `Of 141 sustained episodes of ICP 6 had no alarm and 3 a late one; first treatment after a median of 9 min (95 % 7 to 12), 71 % within 15 min.` */
function episodesOf({ channel, episodes, notices }: OfChannel, response: AuditResponse): string | null {
  if (episodes === null || episodes === 0) return null;
  const { none, late, inTime } = notices;
  const isTold = none !== null && late !== null && (inTime === null || none + late + inTime > 0);
  const treated = wholeTime(response, channel, 'treated');
  const median = treated?.medianMinutes;
  const within = treated?.shares.find(({ minutes }) => minutes === 15)?.share.value ?? null;
  const bounds =
    median && median.lower !== null && median.upper !== null
      ? ` (95 % interval ${decimals(median.lower)} to ${decimals(median.upper)})`
      : '';
  const parts = [
    isTold ? `${none === 0 ? 'none' : none} had no alarm and ${late === 0 ? 'none' : late} a late one` : null,
    median && median.value !== null
      ? `the first treatment came after a median of ${decimals(median.value)} min${bounds}${within === null ? '' : `, within 15 min in ${share(within)}`}`
      : null,
  ].filter((part) => part !== null);
  const what = `${counted(episodes, 'sustained episode')} of ${NAMES[channel]}`;
  return parts.length === 0 ? `There were ${what}.` : `Of ${what} ${parts.join('; ')}.`;
}

/** The same in lines for a page: how much was looked at, then the alarms and the episodes of each channel. */
export const answerLines = (sentence: string): string[] =>
  sentence.split(/(?<=\.) (?=(?:ICP|CPP): |Of \d+ sustained |There were \d|No (?:alarm|episode) )/);

/** The answer on top of an audit's page. */
export function auditSentence(
  patients: number,
  { channels, log }: AuditAlarms,
  response: AuditResponse,
  hasCare: boolean,
): string {
  const days = channels.find(({ channel }) => channel === 'icp')?.monitoredDays ?? 0;
  const lead = `${counted(patients, 'patient')}, ${decimals(days)} monitored patient-days${log === null ? '' : ' while the alarm log reaches'}.`;
  const ofAlarms = log === null ? [] : channels.flatMap((of) => alarmsOf(of, hasCare) ?? []);
  const none = log !== null && ofAlarms.length === 0 ? ['No alarm of ICP or CPP could be judged.'] : [];
  const ofEpisodes = channels.flatMap((of) => episodesOf(of, response) ?? []);
  const noEpisode = channels.every(({ episodes }) => episodes === 0) ? ['No episode was sustained.'] : [];
  return [lead, ...ofAlarms, ...none, ...ofEpisodes, ...noEpisode].join(' ');
}
