import type { RecordingResult } from '../results-schema.js';
import { counted, timesOf } from '../words.js';
import type { BedsideEvent } from './bedside-events.js';

/** So many treatments are told one by one, the last. */
const TOLD = 4;

const isWithin = ({ start }: { start: string }, { period }: RecordingResult): boolean =>
  Date.parse(start) >= Date.parse(period.start) && Date.parse(start) < Date.parse(period.end);

/** So many kinds of alarm are named, the most frequent. */
const KINDS = 3;

/** `ICP above 22 mmHg 5, CPP below 60 mmHg 4`. */
function kindsOf(alarms: readonly { readonly text: string }[]): string {
  const counts = new Map<string, number>();
  for (const { text } of alarms) counts.set(text, (counts.get(text) ?? 0) + 1);
  const kinds = [...counts].sort(([, a], [, b]) => b - a);
  const rest = kinds.slice(KINDS).reduce((sum, [, n]) => sum + n, 0);
  const told = kinds.slice(0, KINDS).map(([text, n]) => `${text} ${n}`);
  return [...told, ...(rest > 0 ? [`others ${rest}`] : [])].join(', ');
}

/** `12 alarms in the alarm log (ICP above 22 mmHg 12), 9 acknowledged.`; empty where no log was given. */
function alarmWords(result: RecordingResult): string {
  if (result.bedside.alarms === null) return '';
  const alarms = result.bedside.alarms.filter((alarm) => isWithin(alarm, result));
  if (alarms.length === 0) return 'No alarms in the alarm log.';
  const answered = alarms.filter(({ acknowledged }) => acknowledged !== null).length;
  const endless = alarms.filter(({ end }) => end === null).length;
  const without = endless === 0 ? '' : `; ${endless} without an end in the log`;
  return `${counted(alarms.length, 'alarm')} in the alarm log (${kindsOf(alarms)}), ${answered} acknowledged${without}.`;
}

/** `Treatments in the care log: 02:05 CSF drained 5 mL; 02:10 osmotherapy.`; empty where no log was given. */
function treatmentWords(result: RecordingResult): string {
  if (result.bedside.entries === null) return '';
  const at = timesOf(result.period);
  const given = result.bedside.entries.filter((entry) => entry.isTreatment && isWithin(entry, result));
  if (given.length === 0) return 'No treatments in the care log.';
  const told = given.slice(-TOLD).map(({ start, text }) => `${at(start)} ${text}`);
  const earlier = given.length > TOLD ? [`${given.length - TOLD} earlier`] : [];
  return `Treatments in the care log: ${[...earlier, ...told].join('; ')}.`;
}

/** What the logs tell of the period, in two sentences; empty where there are no logs. */
export const bedsideWords = (result: RecordingResult): string =>
  [alarmWords(result), treatmentWords(result)].filter((words) => words !== '').join(' ');

/** So many events are read out; the table beside them has more. */
const READ_OUT = 20;

/** Events in words, for a reader who cannot see their marks: `02:07 Alarm: ICP above 22 mmHg; ...`. */
export const eventWords = (
  events: readonly BedsideEvent[],
  period: { readonly start: string; readonly end: string },
): string => {
  const at = timesOf(period);
  const told = events
    .slice(0, READ_OUT)
    .map(({ at: when, what, words }) => `${at(when)} ${what}${words === '' ? '' : `: ${words}`}`);
  const more = events.length > READ_OUT ? [`and ${events.length - READ_OUT} more`] : [];
  return [...told, ...more].join('; ');
};
