import type { Interval } from '../recording/interval.js';
import type { Signal } from '../recording/signal.js';
import { type Link, longestSpan, SLACK } from './longest-span.js';
import { type Side, type Stretch, stretchesPast } from './stretches.js';

/** When a stretch past a threshold is an episode. */
export interface EpisodeRule extends EpisodeTimes {
  readonly threshold: number;
  readonly side: Side;
}

/** How long an episode has to be, and what does not end it. */
export interface EpisodeTimes {
  /** Shortest duration, seconds. */
  readonly minSeconds: number;
  /** Longest return over the threshold that does not end an episode, seconds. */
  readonly dipSeconds: number;
  /** Longest unknown stretch, past the threshold on both sides, that does not end an episode, seconds. */
  readonly bridgeSeconds: number;
}

/** An episode, from the first crossing to the last, milliseconds UTC. */
export interface Episode extends Interval {
  /** It was already past the threshold when the data began, or a longer unknown stretch ended. */
  readonly openStart: boolean;
  /** It was still past the threshold when the data ended, or a longer unknown stretch began. */
  readonly openEnd: boolean;
}

/** Episodes, and stretches that are cut off and too short to tell. */
export interface Episodes {
  readonly episodes: readonly Episode[];
  readonly undetermined: readonly Episode[];
}

/** At least so much of an episode is known; at least so much of the known part is past the threshold. */
const LEAST_KNOWN = 0.5;
const LEAST_PAST = 0.8;
/** A thousandth of a second: crossings are computed in floating point on times of 10^12 ms. */
export const TOLERANCE_MS = 1;

/** Where an episode is cut if it starts or ends there. */
interface Cuts {
  readonly starts: ReadonlySet<number>;
  readonly ends: ReadonlySet<number>;
}

/** What lies between two stretches past the threshold. */
export interface Separator {
  knownMs: number;
  unknownMs: number;
}

/** A stretch past the threshold with what lies before it in the same chain. */
export interface PastStretch extends Interval {
  readonly separator: Separator;
}

/** True where what lies between two stretches past the threshold does not end an episode. */
export const isShort = (
  { knownMs, unknownMs }: Separator,
  { dipSeconds, bridgeSeconds }: EpisodeTimes,
): boolean => {
  const total = knownMs + unknownMs;
  // Whatever x did in an unknown part of a dip, the dip was no longer than the whole separator.
  if (total <= dipSeconds * 1000 + TOLERANCE_MS) return true;
  return knownMs === 0 && unknownMs <= bridgeSeconds * 1000 + TOLERANCE_MS;
};

/** Chains of stretches past the threshold that dips and short unknown stretches do not end. */
function chainsOf(stretches: readonly Stretch[], rule: EpisodeTimes): PastStretch[][] {
  const chains: PastStretch[][] = [];
  let separator: Separator = { knownMs: 0, unknownMs: Number.POSITIVE_INFINITY };
  for (const { state, start, end } of stretches) {
    if (state === 'past') {
      if (isShort(separator, rule)) chains.at(-1)?.push({ start, end, separator });
      else chains.push([{ start, end, separator: { knownMs: 0, unknownMs: 0 } }]);
      separator = { knownMs: 0, unknownMs: 0 };
    } else if (state === 'within') separator.knownMs += end - start;
    else separator.unknownMs += end - start;
  }
  return chains;
}

/** What a length past, within or unknown adds to: past - 0.8 known, and known - 0.5 whole. */
const sums = (pastMs: number, withinMs: number, unknownMs: number): [number, number] => {
  const known = pastMs + withinMs;
  return [pastMs - LEAST_PAST * known, known - LEAST_KNOWN * (known + unknownMs)];
};

/** True where a chain as a whole is known and past the threshold enough. */
export function isSolid(pastMs: number, withinMs: number, unknownMs: number): boolean {
  const [past, known] = sums(pastMs, withinMs, unknownMs);
  return past >= -SLACK && known >= -SLACK;
}

const linkOf = ({ start, end, separator }: PastStretch): Link => ({
  start,
  end,
  own: sums(end - start, 0, 0),
  separator: sums(0, separator.knownMs, separator.unknownMs),
});

/**
 * The longest parts of a chain that are known and past the threshold enough. Mostly that is the whole chain; where
 * scattered peaks hang on a solid stretch, the stretch must not be lost with them.
 */
export function solidParts(chain: readonly PastStretch[], leastMs: number): Interval[] {
  if (chain.length === 0 || chain[chain.length - 1].end - chain[0].start < leastMs) return [];
  const span = longestSpan(chain.map(linkOf));
  if (!span) return [];
  const found = { start: chain[span.from].start, end: chain[span.to].end };
  if (found.end - found.start < leastMs) return [];
  return [
    ...solidParts(chain.slice(0, span.from), leastMs),
    found,
    ...solidParts(chain.slice(span.to + 1), leastMs),
  ];
}

/** The longest part at the first or the last end of a chain that is known and past the threshold enough. */
function solidEnd(chain: readonly PastStretch[], end: 'first' | 'last'): Interval {
  const inward = (end === 'first' ? [...chain] : chain.toReversed()).map(linkOf);
  let reached = inward[0];
  let [past, known] = [0, 0];
  inward.forEach((link, i) => {
    const { separator } = end === 'first' || i === 0 ? link : inward[i - 1];
    past += link.own[0] + (i === 0 ? 0 : separator[0]);
    known += link.own[1] + (i === 0 ? 0 : separator[1]);
    if (past >= -SLACK && known >= -SLACK) reached = link;
  });
  return { start: Math.min(reached.start, inward[0].start), end: Math.max(reached.end, inward[0].end) };
}

/** What of a chain is cut off and too short to tell, beside the episodes in it. */
function tooShortToTell(
  chain: readonly PastStretch[],
  episodes: readonly Interval[],
  cuts: Cuts,
  leastMs: number,
): Episode[] {
  const whole = { start: chain[0].start, end: chain[chain.length - 1].end };
  const wholeIsShort = whole.end - whole.start < leastMs;
  const found: Episode[] = [];
  if (cuts.starts.has(whole.start) && episodes[0]?.start !== whole.start) {
    const before = chain.filter(({ end }) => end <= (episodes[0]?.start ?? whole.end));
    found.push(withCuts(wholeIsShort ? whole : solidEnd(before, 'first'), cuts));
  }
  const last = found.at(-1)?.end ?? whole.start;
  const behind = chain.filter(({ start }) => start >= Math.max(last, episodes.at(-1)?.end ?? last));
  if (cuts.ends.has(whole.end) && behind.length > 0) {
    found.push(withCuts(wholeIsShort ? whole : solidEnd(behind, 'last'), cuts));
  }
  return found;
}

/** Edges of the signal and of unknown stretches that are too long to bridge: an episode that touches one is cut. */
function cutsOf(stretches: readonly Stretch[], { bridgeSeconds }: EpisodeTimes): Cuts {
  const starts = new Set<number>();
  const ends = new Set<number>();
  if (stretches.length > 0) {
    starts.add(stretches[0].start);
    ends.add(stretches[stretches.length - 1].end);
  }
  for (const { state, start, end } of stretches) {
    if (state !== 'unknown' || end - start <= bridgeSeconds * 1000 + TOLERANCE_MS) continue;
    ends.add(start);
    starts.add(end);
  }
  return { starts, ends };
}

/**
 * Finds the episodes of a signal.
 *
 * Definition: from the first crossing to the last, at least `minSeconds`. A return of at most `dipSeconds` does not
 * end it, nor does an unknown stretch of at most `bridgeSeconds` with x past the threshold on both sides. At least
 * half of it is known, at least 80 % of the known part past the threshold.
 * Source: threshold of the caller; sustained 5 min: common practice, no source.
 */
export const findEpisodes = (signal: Signal, rule: EpisodeRule): Episodes =>
  episodesAmong(stretchesPast(signal, rule.threshold, rule.side), rule);

/** The episodes of a signal whose stretches past a threshold, which may have changed with time, are known already. */
export function episodesAmong(stretches: readonly Stretch[], rule: EpisodeTimes): Episodes {
  const cuts = cutsOf(stretches, rule);
  const leastMs = rule.minSeconds * 1000 - TOLERANCE_MS;
  const episodes: Episode[] = [];
  const undetermined: Episode[] = [];
  for (const chain of chainsOf(stretches, rule)) {
    const parts = solidParts(chain, leastMs);
    episodes.push(...parts.map((part) => withCuts(part, cuts)));
    undetermined.push(...tooShortToTell(chain, parts, cuts, leastMs));
  }
  return { episodes, undetermined };
}

const withCuts = ({ start, end }: Interval, cuts: Cuts): Episode => ({
  start,
  end,
  openStart: cuts.starts.has(start),
  openEnd: cuts.ends.has(end),
});
