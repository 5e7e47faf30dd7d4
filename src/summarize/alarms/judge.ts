import type { Grade } from '../../clean/rule.js';
import { type Interval, overlaps } from '../../recording/interval.js';
import { firstAfter, firstAtOrAfter } from '../../recording/search.js';
import type { Signal } from '../../recording/signal.js';
import { type Episode, type EpisodeTimes, episodesAmong } from '../../segment/episodes.js';
import { type Side, type Stretch, stretchesPast } from '../../segment/stretches.js';
import { freshCrossings } from './fresh-crossings.js';

/** What an alarm turned out to be, in the order in which the first that applies counts. */
export const ALARM_CLASSES = [
  'cannotTell',
  'suspect',
  'artifact',
  'sustained',
  'cutShort',
  'longPast',
  'brief',
  'noCrossing',
] as const;
export type AlarmClass = (typeof ALARM_CLASSES)[number];

/** An alarm that is to be judged: the limit that it was about, and when it came on, milliseconds UTC. */
export interface RaisedAlarm {
  readonly onset: number;
  /** Null where nobody says which. */
  readonly limit: number | null;
  readonly side: Side;
}

/** What came of an alarm. */
export interface Judgement {
  readonly alarmClass: AlarmClass;
  /** Of an artifact and of what is suspect: the rule that took it. */
  readonly rule: string | null;
  /** When the cleaned signal passed the limit, and when it was back for good or no longer known; null where it did not. */
  readonly crossing: number | null;
  readonly back: number | null;
  /** Why one cannot tell. */
  readonly why: string | null;
}

/** What was taken of a channel, as the account of cleaning has it. */
export interface Taken extends Interval {
  readonly rule: string;
  readonly grade: Grade;
}

/** A channel whose alarms are judged: ICP, or CPP with what was taken of either pressure. */
export interface JudgedChannel {
  readonly raw: Signal;
  readonly cleaned: Signal;
  /** By start. */
  readonly taken: readonly Taken[];
  readonly intervalMs: number;
  /** Of the unit's rule: alarms of the other side are never sustained by it, nor cut short. */
  readonly side: Side;
  /** By the unit's rule, in time order. */
  readonly sustained: readonly Interval[];
  /** Of the unit's rule: what does not end an excursion, and from which length on one counts as long. */
  readonly times: EpisodeTimes;
}

/** The crossing is looked for from so long before the onset to so long after it: monitors average and delay. */
const BEFORE_MS = 60_000;
const AFTER_MS = 10_000;
/** Coarser samples do not show what a monitor saw. */
export const COARSEST_MS = 20_000;

/** What excursions can be, in the order in which they say more. */
const SAYS = ['sustained', 'cutShort', 'longPast', 'cannotTell', 'brief'] as const;

const none = { rule: null, crossing: null, back: null, why: null };

/** Stretches of raw signal and excursions of cleaned signal past one limit. */
interface PastLimit {
  readonly raw: readonly Stretch[];
  readonly crossings: readonly number[];
  readonly excursions: readonly Episode[];
}

/** Judges the alarms of one channel of one patient; what several alarms of one limit need is made once. */
export class AlarmJudge {
  private readonly byLimit = new Map<string, PastLimit>();
  /** By mark: the latest end of it and of those before, so that those that reach into a time are found by halving. */
  private readonly reach: Float64Array;

  constructor(private readonly channel: JudgedChannel) {
    let latest = Number.NEGATIVE_INFINITY;
    this.reach = Float64Array.from(channel.taken, ({ end }) => {
      latest = Math.max(latest, end);
      return latest;
    });
  }

  /**
   * The first class that applies: cannot tell (no data, no limit, or samples over 20 s apart); suspect; artifact; sustained
   * by the unit's rule; cut short (a true crossing with a treatment logged before it returned, so that fast units are not
   * punished); long past its own limit, though not by the unit's rule; brief; no crossing. Where several excursions are
   * near the onset, the one that says most counts. One that missing data cut off before it was long cannot be told, unless
   * a treatment came. Common practice, no source.
   *
   * @param treatments when they were given, rising, milliseconds UTC
   */
  judge(alarm: RaisedAlarm, treatments: readonly number[]): Judgement {
    const { channel } = this;
    const window = { start: alarm.onset - BEFORE_MS, end: alarm.onset + AFTER_MS };
    if (alarm.limit === null) return { ...none, alarmClass: 'cannotTell', why: 'the log gives no limit' };
    if (channel.intervalMs > COARSEST_MS || Number.isNaN(channel.intervalMs)) {
      const why = Number.isNaN(channel.intervalMs)
        ? 'no data'
        : `a sample every ${Number((channel.intervalMs / 1000).toFixed(1))} s, and 20 s are needed`;
      return { ...none, alarmClass: 'cannotTell', why };
    }
    const { raw, excursions } = this.pastLimit(alarm.limit, alarm.side);
    const seen = within(raw, window);
    const past = seen.filter(({ state }) => state === 'past');
    const knownMs = seen.reduce((sum, one) => sum + (one.state === 'unknown' ? 0 : shared(one, window)), 0);
    if (past.length === 0) {
      return knownMs < (window.end - window.start) / 2
        ? { ...none, alarmClass: 'cannotTell', why: 'no data' }
        : { ...none, alarmClass: 'noCrossing' };
    }
    const near = within(excursions, window).map((one) => ({
      excursion: one,
      alarmClass: this.classOf(one, window, alarm.side, treatments),
    }));
    const [told] = near.toSorted((a, b) => SAYS.indexOf(a.alarmClass) - SAYS.indexOf(b.alarmClass));
    const excursion = told?.excursion;
    const crossed = past.map((one) => ({
      start: Math.max(one.start, window.start),
      end: Math.min(one.end, window.end),
    }));
    const taken = this.takenIn(window).filter((one) => crossed.some((part) => overlaps(one, part)));
    const suspect = taken.find(({ grade }) => grade === 'suspect');
    if (suspect) return { ...none, ...spanOf(excursion), alarmClass: 'suspect', rule: suspect.rule };
    if (!excursion) {
      const removed = taken.find(({ grade }) => grade === 'removed');
      return removed
        ? { ...none, alarmClass: 'artifact', rule: removed.rule }
        : { ...none, alarmClass: 'noCrossing' };
    }
    const { alarmClass } = told;
    const why = alarmClass === 'cannotTell' ? 'cut off by missing data' : null;
    return { ...none, ...spanOf(excursion), alarmClass, why };
  }

  /** The marks that share time with a window. */
  private takenIn(window: Interval): readonly Taken[] {
    const { taken } = this.channel;
    const found: Taken[] = [];
    for (let i = firstAtOrAfter(this.reach, window.start); i < taken.length; i++) {
      if (taken[i].start > window.end) break;
      found.push(taken[i]);
    }
    return found;
  }

  /** When the raw signal, which a monitor saw, crossed the limit of an alarm anew; milliseconds UTC, rising. */
  crossings(alarm: RaisedAlarm): readonly number[] {
    return alarm.limit === null ? [] : this.pastLimit(alarm.limit, alarm.side).crossings;
  }

  private classOf(
    excursion: Episode,
    window: Interval,
    side: Side,
    treatments: readonly number[],
  ): (typeof SAYS)[number] {
    const { sustained, times, side: ofRule } = this.channel;
    if (side === ofRule) {
      const whole = { start: excursion.start, end: Math.max(excursion.end, window.end) };
      if (within(sustained, whole).length > 0) return 'sustained';
      const treated = treatments[firstAfter(treatments, excursion.start - 1)];
      if (treated !== undefined && treated <= excursion.end) return 'cutShort';
    }
    if (excursion.end - excursion.start >= times.minSeconds * 1000) return 'longPast';
    return excursion.openStart || excursion.openEnd ? 'cannotTell' : 'brief';
  }

  private pastLimit(limit: number, side: Side): PastLimit {
    const key = `${side} ${limit}`;
    const known = this.byLimit.get(key);
    if (known) return known;
    const { raw, cleaned, times } = this.channel;
    const past = stretchesPast(raw, limit, side);
    const found = {
      raw: past,
      crossings: freshCrossings(past),
      excursions: episodesAmong(stretchesPast(cleaned, limit, side), { ...times, minSeconds: 0 }).episodes,
    };
    this.byLimit.set(key, found);
    return found;
  }
}

const shared = (a: Interval, b: Interval): number =>
  Math.max(0, Math.min(a.end, b.end) - Math.max(a.start, b.start));

const spanOf = (excursion: Interval | undefined): Pick<Judgement, 'crossing' | 'back'> => ({
  crossing: excursion?.start ?? null,
  back: excursion?.end ?? null,
});

/** Those of a sorted list without overlaps that share time with the window. */
function within<T extends Interval>(list: readonly T[], window: Interval): T[] {
  let low = 0;
  let high = list.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (list[middle].end <= window.start) low = middle + 1;
    else high = middle;
  }
  const found: T[] = [];
  for (let i = low; i < list.length && list[i].start < window.end; i++) found.push(list[i]);
  return found;
}
