import type { RecordingResult } from '../results-schema.js';

/** One thing that the logs tell, at one time. */
export interface BedsideEvent {
  /** Local time with offset. */
  readonly at: string;
  readonly what: string;
  /** In the words of the log; empty where there are none. */
  readonly words: string;
}

interface Span {
  readonly start: string;
  readonly end: string;
}

type Bedside = RecordingResult['bedside'];

const ofAlarms = ({ alarms }: Bedside): BedsideEvent[] =>
  (alarms ?? []).flatMap(({ start, end, acknowledged, text }) => [
    { at: start, what: 'Alarm', words: text },
    ...(acknowledged === null ? [] : [{ at: acknowledged, what: 'Alarm acknowledged', words: text }]),
    ...(end === null ? [] : [{ at: end, what: 'Alarm ended', words: text }]),
  ]);

const ofEntries = ({ entries }: Bedside): BedsideEvent[] =>
  (entries ?? []).map(({ start, isTreatment, text }) => ({
    at: start,
    what: isTreatment ? 'Treatment' : 'Care log',
    words: text,
  }));

const ofDrain = ({ drainOpen }: Bedside): BedsideEvent[] =>
  drainOpen.flatMap(({ start, end }) => [
    { at: start, what: 'Drain open from', words: '' },
    { at: end, what: 'Drain open to', words: '' },
  ]);

/** All that the logs tell of a stretch of time, by time. */
export const bedsideEvents = (bedside: Bedside, { start, end }: Span): BedsideEvent[] =>
  [...ofAlarms(bedside), ...ofEntries(bedside), ...ofDrain(bedside)]
    .filter(({ at }) => Date.parse(at) >= Date.parse(start) && Date.parse(at) <= Date.parse(end))
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at));

const MINUTE_MS = 60_000;

/** What the strip of an episode shows of them: from 10 min before to 20 min after. */
export const bedsideAround = (bedside: Bedside, { start, end }: Span): BedsideEvent[] =>
  bedsideEvents(bedside, {
    start: new Date(Date.parse(start) - 10 * MINUTE_MS).toISOString(),
    end: new Date(Date.parse(end) + 20 * MINUTE_MS).toISOString(),
  });
