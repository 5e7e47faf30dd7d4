import type { Signal } from '../recording/signal.js';
import { keptLevel } from './kept-level.js';
import { scatterOf } from './robust-spread.js';
import type { Run } from './runs.js';

/** A stretch of samples that stands over the level that is kept around it. */
export interface Bump extends Run {
  /** How far its highest sample stands over that level, mmHg. */
  readonly riseMmHg: number;
  readonly peak: number;
}

/** What counts as a bump. */
export interface BumpShape {
  /** Least rise, mmHg; the flanks are followed down to a quarter of it. */
  readonly leastMmHg: number;
  /** A level that is kept for so long is no bump. */
  readonly seconds: number;
}

/** The lowest of scattered samples lies under their middle by about so many standard deviations. */
const LOWEST_OF_SCATTER = 1.5;

/**
 * Stretches that rise over the level kept for the given time, and come back to it; where a hole cuts one off, nobody
 * knows how long it lasted, and it is none.
 *
 * @param nominalMs interval of the samples: the level has to be kept by two of them at least
 */
export function bumpsOver(signal: Signal, { leastMmHg, seconds }: BumpShape, nominalMs: number): Bump[] {
  const { values, known } = signal;
  const kept = keptLevel(signal, Math.max(seconds, (1.25 * nominalMs) / 1000));
  const foot = leastMmHg / 4;
  const lift = Math.min(LOWEST_OF_SCATTER * scatterOf(signal), foot);
  const bumps: Bump[] = [];
  for (let i = 0; i < values.length; i++) {
    if (values[i] - kept[i] - lift <= foot) continue;
    const first = i;
    let peak = i;
    while (i + 1 < values.length && known[i] && values[i + 1] - kept[i + 1] - lift > foot) {
      i++;
      if (values[i] - kept[i] > values[peak] - kept[peak]) peak = i;
    }
    const isWhole = first > 0 && known[first - 1] === 1 && known[i] === 1;
    const riseMmHg = values[peak] - kept[peak] - lift;
    if (isWhole && riseMmHg >= leastMmHg) bumps.push({ first, last: i, peak, riseMmHg });
  }
  return bumps;
}

/** The signal with the bumps cut off at the level that it keeps between their ends: a line from side to side. */
export function withoutBumps(signal: Signal, bumps: readonly Run[]): Signal {
  const values = signal.values.slice();
  const { times } = signal;
  for (const { first, last } of bumps) {
    const [a, b] = [first - 1, last + 1];
    for (let i = first; i <= last; i++) {
      const share = (times[i] - times[a]) / (times[b] - times[a]);
      values[i] = values[a] + share * (values[b] - values[a]);
    }
  }
  return { ...signal, values };
}
