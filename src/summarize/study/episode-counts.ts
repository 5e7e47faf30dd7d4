import { interpolate } from '../../recording/pieces.js';
import type { Signal } from '../../recording/signal.js';
import {
  type EpisodeTimes,
  isShort,
  isSolid,
  type PastStretch,
  solidParts,
  TOLERANCE_MS,
} from '../../segment/episodes.js';
import type { Side } from '../../segment/stretches.js';

/** What does not end an episode, and on which side of an intensity it lies. */
export interface CountRule extends Omit<EpisodeTimes, 'minSeconds'> {
  readonly side: Side;
}

const MINUTE_MS = 60_000;

/** Lengths of the episodes past one intensity, from its stretches in time order. */
class Chain {
  private starts: number[] = [];
  private ends: number[] = [];
  private within: number[] = [];
  private unknown: number[] = [];
  private links = 0;
  private readonly gap = { knownMs: 0, unknownMs: 0 };

  constructor(
    private readonly times: EpisodeTimes,
    private readonly tell: (lengthMs: number) => void,
  ) {}

  addWithin(ms: number): void {
    this.gap.knownMs += ms;
  }

  addUnknown(ms: number): void {
    this.gap.unknownMs += ms;
  }

  addPast(start: number, end: number): void {
    if (start >= end) return;
    const { gap, links } = this;
    if (links > 0 && this.ends[links - 1] === start) {
      this.ends[links - 1] = end;
      return;
    }
    if (links > 0 && !isShort(gap, this.times)) this.close();
    const at = this.links++;
    this.starts[at] = start;
    this.ends[at] = end;
    this.within[at] = at === 0 ? 0 : gap.knownMs;
    this.unknown[at] = at === 0 ? 0 : gap.unknownMs;
    gap.knownMs = 0;
    gap.unknownMs = 0;
  }

  /** Tells the episodes of the links so far. */
  close(): void {
    const { starts, ends, within, unknown, links, times } = this;
    this.links = 0;
    if (links === 0) return;
    const leastMs = times.minSeconds * 1000 - TOLERANCE_MS;
    const length = ends[links - 1] - starts[0];
    if (length < leastMs) return;
    let [withinMs, unknownMs] = [0, 0];
    for (let i = 1; i < links; i++) {
      withinMs += within[i];
      unknownMs += unknown[i];
    }
    if (isSolid(length - withinMs - unknownMs, withinMs, unknownMs)) {
      this.tell(length);
      return;
    }
    const chain: PastStretch[] = [];
    for (let i = 0; i < links; i++) {
      const separator = { knownMs: within[i], unknownMs: unknown[i] };
      chain.push({ start: starts[i], end: ends[i], separator });
    }
    for (const { start, end } of solidParts(chain, leastMs)) this.tell(end - start);
  }
}

/** Hands the stretches of a signal past a level to a chain, crossings exact; `sign` is -1 for below. */
function chainStretches({ times, values, known }: Signal, level: number, sign: 1 | -1, chain: Chain): void {
  const edge = sign * level;
  let reached = Number.NaN;
  for (let i = 0; i + 1 < times.length; i++) {
    if (known[i] === 0) continue;
    if (times[i] > reached) chain.addUnknown(times[i] - reached);
    while (known[i] !== 0) {
      const from = times[i];
      const isPast = sign * values[i] > edge;
      if (isPast) while (known[i] !== 0 && sign * values[i + 1] > edge) i++;
      else while (known[i] !== 0 && sign * values[i + 1] <= edge) i++;
      const at =
        known[i] === 0
          ? times[i]
          : interpolate(
              0,
              sign * (values[i] - level),
              times[i],
              sign * (values[i + 1] - level),
              times[i + 1],
            );
      if (isPast) chain.addPast(from, at);
      else chain.addWithin(at - from);
      if (known[i] === 0) break;
      // The rest of the piece that crosses.
      i++;
      if (isPast) chain.addWithin(times[i] - at);
      else chain.addPast(at, times[i]);
    }
    reached = times[i];
  }
  chain.close();
}

/**
 * How many episodes lie past each intensity and last at least each duration, in one pass an intensity. Each count is that of
 * `findEpisodes` with this intensity as threshold and this duration as the shortest: dips and unknown stretches that the
 * rule allows do not end an episode, longer ones do. Without them (0 s both) it is maximal stretches that count.
 * Source of the map: Guiza et al., Intensive Care Med 2015;41:1067-76, on values a minute; what does not end an episode
 * is the unit's own rule (common practice, no source).
 *
 * @param signal of one window alone, as `cutTo` gives it
 * @param intensities in the signal's unit
 * @param durationsMinutes rising
 * @returns of intensity k the counts by duration stand from `k * durationsMinutes.length` on
 */
export function episodeCounts(
  signal: Signal,
  intensities: readonly number[],
  durationsMinutes: readonly number[],
  rule: CountRule,
): Uint32Array {
  const n = durationsMinutes.length;
  const counts = new Uint32Array(intensities.length * n);
  if (n === 0) return counts;
  const leastMs = durationsMinutes.map((minutes) => minutes * MINUTE_MS - TOLERANCE_MS);
  const times = { ...rule, minSeconds: durationsMinutes[0] * 60 };
  intensities.forEach((level, k) => {
    const own = counts.subarray(k * n, (k + 1) * n);
    const chain = new Chain(times, (lengthMs) => {
      for (let d = 0; d < n && lengthMs >= leastMs[d]; d++) own[d]++;
    });
    chainStretches(signal, level, rule.side === 'above' ? 1 : -1, chain);
  });
  return counts;
}
