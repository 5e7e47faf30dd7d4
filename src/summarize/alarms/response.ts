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
  /** How long a treatment could have been seen, had nothing else come first, minutes: to where data or log end. */
  readonly followedMinutes: number;
}

/** An alarm as far as answering it goes, milliseconds UTC. */
export interface AnsweredAlarm {
  readonly onset: number;
  readonly acknowledged: number | null;
  /** Null where nobody can tell for how long it was on. */
  readonly ended: number | null;
}

/** What a response is looked for in. */
export interface ResponseTask {
  /** Of the cleaned signal against the threshold, or the targets, of the rule. */
  readonly stretches: readonly Stretch[];
  readonly minSeconds: number;
  /** Unknown stretches that are no longer do not cut off what is waited for, seconds. */
  readonly bridgeSeconds: number;
  /** Of this channel, by onset; null where no alarm log was given. */
  readonly alarms: readonly AnsweredAlarm[] | null;
  /** When treatments were given, rising; null where no care log was given. */
  readonly treatments: readonly number[] | null;
  /** Null where nobody says that the patient died. */
  readonly diedAt: number | null;
  /** Where the logs end, milliseconds UTC: what came later is not told. */
  readonly alarmsUntil: number;
  readonly careUntil: number;
}

const MINUTE_MS = 60_000;
/** So long at or under the threshold, known and without a rise in between, an episode is over. */
const CALM_MS = 5 * MINUTE_MS;
/** Monitoring ends some time before a death; one that follows the last data so soon came first. Own convention. */
const DEATH_BEHIND_MS = 24 * 60 * MINUTE_MS;
/** An alarm may come on a little before the crossing that it is about: monitors average. */
const EARLY_MS = 60_000;
/** A millionth of a second: crossings are computed in floating point on times of 10^12 ms. */
const TOLERANCE_MS = 1e-3;

/** Where the signal cannot be followed any further. */
interface Cut {
  readonly at: number;
  /** True where the signal ends for good. */
  readonly isEnd: boolean;
}

/** When 5 min at or within the threshold began, and where the signal cannot be followed; both in time order. */
interface Course {
  readonly calmFrom: readonly number[];
  readonly cuts: readonly Cut[];
}

/** A time at or within the threshold that has not lasted long enough yet. */
interface Calm {
  readonly start: number;
  knownMs: number;
}

/**
 * What becomes of a signal after its episodes. A short unknown stretch, as of a cough, ends no calm; a longer one cuts it
 * off where the calm began, since nobody knows whether it would have lasted.
 */
function courseOf(stretches: readonly Stretch[], bridgeMs: number): Course {
  const calmFrom: number[] = [];
  const cuts: Cut[] = [];
  let calm: Calm | null = null;
  for (const { state, start, end } of stretches) {
    if (state === 'past') calm = null;
    else if (state === 'within') {
      calm ??= { start, knownMs: 0 };
      const before = calm.knownMs;
      calm.knownMs += end - start;
      const isLong = calm.knownMs >= CALM_MS - TOLERANCE_MS;
      if (isLong && before < CALM_MS - TOLERANCE_MS) calmFrom.push(calm.start);
    } else if (end - start > bridgeMs + TOLERANCE_MS) {
      cuts.push({ at: unfinished(calm) ?? start, isEnd: false });
      calm = null;
    }
  }
  const last = stretches.at(-1);
  if (last) cuts.push({ at: unfinished(calm) ?? last.end, isEnd: true });
  return { calmFrom, cuts };
}

const unfinished = (calm: Calm | null): number | null =>
  calm !== null && calm.knownMs < CALM_MS - TOLERANCE_MS ? calm.start : null;

/**
 * The alarms of an episode: those that came on in it, or shortly before and behind the episode before, and one that was on
 * when it began.
 */
function alarmsOf(
  episode: Episode,
  alarms: readonly AnsweredAlarm[],
  onsets: readonly number[],
  behind: number,
): AnsweredAlarm[] {
  const first = firstAtOrAfter(onsets, Math.max(behind, episode.start - EARLY_MS));
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
 * episode, else from the crossing; what came between the crossing and a later alarm took no time, nor did an
 * acknowledgement of an alarm that was on before; a treatment before both is none of this episode. Resolved: from when the
 * rule was met to the start of the first 5 known minutes at or under the threshold; until then an episode goes on being
 * followed, also through one that begins sooner. What is cut off by a gap, the end of data or of the log is censored
 * there, never dropped; an episode that resolves, and death, end the other clocks first. Common practice, no source.
 *
 * @param episodes of the unit's rule on the same signal, in time order
 */
export function responses(episodes: readonly Episode[], task: ResponseTask): Response[] {
  const { stretches, alarms, treatments, diedAt, alarmsUntil, careUntil } = task;
  const { calmFrom, cuts } = courseOf(stretches, task.bridgeSeconds * 1000);
  const cutAt = cuts.map(({ at }) => at);
  const onsets = (alarms ?? []).map(({ onset }) => onset);
  return episodes.map((episode, i): Response => {
    const { start } = episode;
    const met = Math.min(episode.end, start + task.minSeconds * 1000);
    // An episode that runs to a gap is not resolved by what stands behind it.
    const calm = calmFrom[firstAtOrAfter(calmFrom, episode.end - TOLERANCE_MS)] ?? null;
    const { at: cut, isEnd } = cuts[firstAtOrAfter(cutAt, episode.end - TOLERANCE_MS)] ?? {
      at: episode.end,
      isEnd: true,
    };
    const resolvedAt = calm !== null && calm <= cut ? calm : null;
    const mine = alarmsOf(episode, alarms ?? [], onsets, episodes[i - 1]?.end ?? Number.NEGATIVE_INFINITY);
    // An alarm that was on before, of a lower limit, tells of the episode at its crossing.
    const isEarly = mine.length > 0 && mine[0].onset < start - EARLY_MS;
    const from = mine.length === 0 || isEarly ? start : mine[0].onset;
    const acknowledged = mine.flatMap((alarm) => alarm.acknowledged ?? []).reduce(least, null);
    const isBehind = isEnd && diedAt !== null && diedAt >= cut && diedAt - cut <= DEATH_BEHIND_MS;
    const death: readonly [number | null, Outcome] = [
      isBehind ? cut : diedAt !== null && diedAt >= start ? diedAt : null,
      'died',
    ];
    const others = [[resolvedAt, 'resolved'], death, [cut, 'cut']] as const;
    const treatment = treatments?.[firstAfter(treatments, Math.min(from, start) - 1)] ?? null;
    const treated =
      treatments === null ? null : firstOf(from, [treatment, 'happened'], ...others, [careUntil, 'cut']);
    return {
      episode,
      from,
      hadAlarm: mine.length > 0,
      acknowledged:
        alarms === null ? null : firstOf(from, [acknowledged, 'happened'], ...others, [alarmsUntil, 'cut']),
      treated,
      treatedAt: treated?.outcome === 'happened' ? treatment : null,
      resolved: firstOf(met, [resolvedAt, 'happened'], death, [cut, 'cut']),
      followedMinutes: minutesFrom(from, Math.min(cut, careUntil)),
    };
  });
}
