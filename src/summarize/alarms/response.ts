import type { Interval } from '../../recording/interval.js';
import { firstAfter, firstAtOrAfter } from '../../recording/search.js';
import type { Episode } from '../../segment/episodes.js';
import type { Stretch } from '../../segment/stretches.js';

/** Why a clock stopped: what it waits for came, something else came first, or it was cut off. */
export type Outcome = 'happened' | 'resolved' | 'died' | 'cut';

/** Time to something, minutes. */
export interface TimeTo {
  readonly minutes: number;
  readonly outcome: Outcome;
}

/** How fast somebody answered one sustained episode. */
export interface Response {
  readonly episode: Episode;
  /** What the clocks of answering start at: the first alarm of the episode, the crossing where one was on already, or where none came. */
  readonly from: number;
  readonly hadAlarm: boolean;
  /** Null where the log of it was not given. */
  readonly acknowledged: TimeTo | null;
  readonly treated: TimeTo | null;
  /** The first treatment from the crossing or an earlier alarm on, milliseconds UTC; null where none came first. */
  readonly treatedAt: number | null;
  /** From when the rule was met to the start of the first 5 min at or under the threshold. */
  readonly resolved: TimeTo;
}

/** An alarm as far as answering it goes, milliseconds UTC. */
export interface AnsweredAlarm {
  readonly onset: number;
  readonly acknowledged: number | null;
  /** Null where the log does not tell. */
  readonly ended: number | null;
}

/** What a response is looked for in. */
export interface ResponseTask {
  /** Of the cleaned signal against the threshold, or the targets, of the rule. */
  readonly stretches: readonly Stretch[];
  readonly minSeconds: number;
  /** Of this channel, by onset; null where no alarm log was given. */
  readonly alarms: readonly AnsweredAlarm[] | null;
  /** When treatments were given, rising; null where no care log was given. */
  readonly treatments: readonly number[] | null;
  /** Null where nobody says that the patient died. */
  readonly diedAt: number | null;
}

const MINUTE_MS = 60_000;
/** So long at or under the threshold, without a break and known, an episode is over. */
const CALM_MS = 5 * MINUTE_MS;
/** An alarm may come on a little before the crossing that it is about: monitors average. */
const EARLY_MS = 60_000;
/** A thousandth of a second: crossings are computed in floating point on times of 10^12 ms. */
const TOLERANCE_MS = 1e-3;

/** The stretches at or within the threshold that last 5 min or more, and the ends of what is known. */
interface Course {
  readonly calm: readonly Interval[];
  /** Where a stretch that is not known begins, or the signal ends. */
  readonly cuts: readonly number[];
}

const courseOf = (stretches: readonly Stretch[]): Course => ({
  calm: stretches.filter(
    ({ state, start, end }) => state === 'within' && end - start >= CALM_MS - TOLERANCE_MS,
  ),
  cuts: [
    ...stretches.filter(({ state }) => state === 'unknown').map(({ start }) => start),
    ...stretches.slice(-1).map(({ end }) => end),
  ],
});

/** The alarms of an episode: those that came on in it or shortly before, and one that was on when it began. */
function alarmsOf(
  episode: Episode,
  alarms: readonly AnsweredAlarm[],
  onsets: readonly number[],
): AnsweredAlarm[] {
  const first = firstAtOrAfter(onsets, episode.start - EARLY_MS);
  const wasOn = alarms.slice(0, first).filter(({ ended }) => ended !== null && ended > episode.start);
  return [...wasOn, ...alarms.slice(first, firstAtOrAfter(onsets, episode.end))];
}

const least = (a: number | null, b: number): number => (a === null ? b : Math.min(a, b));

const minutesFrom = (from: number, to: number): number => Math.max(0, to - from) / MINUTE_MS;

/** What came first of some instants, of which null is never; at one time the earlier in the list. */
function firstOf(from: number, ...of: readonly (readonly [at: number | null, outcome: Outcome])[]): TimeTo {
  let best: readonly [at: number, outcome: Outcome] | null = null;
  for (const [at, outcome] of of) if (at !== null && (best === null || at < best[0])) best = [at, outcome];
  if (best === null) throw new Error('nothing ends this clock');
  return { minutes: minutesFrom(from, best[0]), outcome: best[1] };
}

/**
 * Response to each sustained episode. Acknowledged (any of its alarms) and first treatment: from the first alarm of the
 * episode, else from the crossing; what came between the crossing and a later alarm took no time, and a treatment before
 * both is none of this episode. Resolved: from when the rule was met to the start of the first 5 known minutes at or
 * under the threshold. What is cut off by a gap or the end of data is censored there, never dropped; an episode that
 * resolves, and death, end the other clocks first. Common practice, no source.
 *
 * @param episodes of the unit's rule on the same signal
 */
export function responses(episodes: readonly Episode[], task: ResponseTask): Response[] {
  const { stretches, alarms, treatments, diedAt } = task;
  const { calm, cuts } = courseOf(stretches);
  const onsets = (alarms ?? []).map(({ onset }) => onset);
  const calmFrom = calm.map(({ start }) => start);
  return episodes.map((episode): Response => {
    const met = Math.min(episode.end, episode.start + task.minSeconds * 1000);
    // An episode that runs to a gap is not resolved by what stands behind it.
    const end = calmFrom[firstAtOrAfter(calmFrom, episode.end - TOLERANCE_MS)] ?? null;
    const cut = cuts[firstAtOrAfter(cuts, episode.end - TOLERANCE_MS)] ?? episode.end;
    const resolvedAt = end !== null && end <= cut ? end : null;
    const mine = alarmsOf(episode, alarms ?? [], onsets);
    // An alarm that was on before, of a lower limit, tells of the episode at its crossing.
    const isEarly = mine.length > 0 && mine[0].onset < episode.start - EARLY_MS;
    const from = mine.length === 0 || isEarly ? episode.start : mine[0].onset;
    const acknowledged = mine.flatMap((alarm) => alarm.acknowledged ?? []).reduce(least, null);
    const death: readonly [number | null, Outcome] = [
      diedAt !== null && diedAt >= from ? diedAt : null,
      'died',
    ];
    const others = [[resolvedAt, 'resolved'], death, [cut, 'cut']] as const;
    const treatment = treatments?.[firstAfter(treatments, Math.min(from, episode.start) - 1)] ?? null;
    const treated = treatments === null ? null : firstOf(from, [treatment, 'happened'], ...others);
    return {
      episode,
      from,
      hadAlarm: mine.length > 0,
      acknowledged: alarms === null ? null : firstOf(from, [acknowledged, 'happened'], ...others),
      treated,
      treatedAt: treated?.outcome === 'happened' ? treatment : null,
      resolved: firstOf(met, [resolvedAt, 'happened'], death, [cut, 'cut']),
    };
  });
}
