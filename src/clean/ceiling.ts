import type { Signal } from '../recording/signal.js';
import { equalRuns } from './equal-runs.js';
import { HIGHEST_ICP_MMHG, LOWEST_ICP_MMHG } from './measuring-range.js';

/** A run at the ceiling that chance gives less often than this. */
const CHANCE = 1e-6;
const SHORTEST_MS = 15_000;
/** A ceiling is met again and again; a value that froze is met once. */
const VISITS = 3;

/**
 * The value over which a channel cannot read, mmHg: its highest value inside the measuring range, where it stays at it
 * longer than chance allows and comes back to it. Null where the channel has none.
 */
export const ceilingOf = (signal: Signal): number | null => limitOf(signal, 1);

/** The value under which a channel cannot read, mmHg; null where it has none. */
export const floorOf = (signal: Signal): number | null => limitOf(signal, -1);

const computed: Record<1 | -1, WeakMap<Signal, number | null>> = { 1: new WeakMap(), [-1]: new WeakMap() };

function limitOf(signal: Signal, side: 1 | -1): number | null {
  const known = computed[side].get(signal);
  if (known !== undefined) return known;
  const limit = findLimit(signal, side);
  computed[side].set(signal, limit);
  return limit;
}

function findLimit(signal: Signal, side: 1 | -1): number | null {
  const { times, values } = signal;
  let extreme = Number.NaN;
  for (const value of values) {
    if (value < LOWEST_ICP_MMHG || value > HIGHEST_ICP_MMHG) continue;
    if (!(side * value <= side * extreme)) extreme = value;
  }
  const stays = equalRuns(signal).some(
    ({ first, last, chanceOfRepeats }) =>
      values[first] === extreme && times[last] - times[first] >= SHORTEST_MS && chanceOfRepeats < CHANCE,
  );
  if (!stays) return null;
  let visits = 0;
  for (let i = 0; i < values.length; i++) if (values[i] === extreme && values[i - 1] !== extreme) visits++;
  return visits >= VISITS ? extreme : null;
}
