import type { Interval } from '../../recording/interval.js';
import { episodeStripWindow } from '../charts/episode-window.js';
import type { RecordingResult } from '../results-schema.js';

/** One thing that the logs tell, at one time. */
export interface BedsideEvent {
  /** Local time with offset. */
  readonly at: string;
  /** The same, milliseconds UTC. */
  readonly time: number;
  readonly what: string;
  /** In the words of the log; empty where there are none. */
  readonly words: string;
}

/** Local times with offset. */
interface Span {
  readonly start: string;
  readonly end: string;
}

type Bedside = RecordingResult['bedside'];

/** Nothing where the log gives no time. */
const event = (at: string | null, what: string, words: string): BedsideEvent[] =>
  at === null ? [] : [{ at, time: Date.parse(at), what, words }];

const ofAlarms = ({ alarms }: Bedside): BedsideEvent[] =>
  (alarms ?? []).flatMap(({ start, end, acknowledged, text }) => [
    ...event(start, 'Alarm', text),
    ...event(acknowledged, 'Alarm acknowledged', text),
    ...event(end, 'Alarm ended', text),
  ]);

const ofEntries = ({ entries }: Bedside): BedsideEvent[] =>
  (entries ?? []).flatMap(({ start, isTreatment, text }) =>
    event(start, isTreatment ? 'Treatment' : 'Care log', text),
  );

const ofDrain = ({ drainOpen }: Bedside): BedsideEvent[] =>
  drainOpen.flatMap(({ start, end }) => [
    ...event(start, 'Drain open from', ''),
    ...event(end, 'Drain open to', ''),
  ]);

/** All that the logs tell, by time. */
export const bedsideEvents = (bedside: Bedside): BedsideEvent[] =>
  [...ofAlarms(bedside), ...ofEntries(bedside), ...ofDrain(bedside)].sort((a, b) => a.time - b.time);

const within = (events: readonly BedsideEvent[], { start, end }: Interval): BedsideEvent[] =>
  events.filter(({ time }) => time >= start && time <= end);

/** The same stretch in milliseconds UTC. */
export const milliseconds = ({ start, end }: Span): Interval => ({
  start: Date.parse(start),
  end: Date.parse(end),
});

/** Those of a stretch of time, both ends included. */
export const eventsIn = (events: readonly BedsideEvent[], span: Span): BedsideEvent[] =>
  within(events, milliseconds(span));

/** Those that the strip of an episode shows. */
export const eventsAround = (events: readonly BedsideEvent[], episode: Span): BedsideEvent[] =>
  within(events, episodeStripWindow(milliseconds(episode)));
