import { firstAtOrAfter } from '../recording/search.js';
import type { Signal } from '../recording/signal.js';
import { placesOf } from '../recording/value-places.js';
import { equalRuns } from './equal-runs.js';
import { HIGHEST_ICP_MMHG, LOWEST_ICP_MMHG } from './measuring-range.js';

/** A run at the ceiling that chance gives less often than this. */
const CHANCE = 1e-6;
const SHORTEST_MS = 15_000;
/** A ceiling is met again and again; a value that froze is met once. */
const VISITS = 3;
/** A calm patient in whole numbers also comes back to a highest value: a limit stands off from nearly all others, mmHg. */
const LEAST_OFF_MMHG = 5;
const NEARLY_ALL = 0.9;
/** All that lies beyond a limit is shown at it: more samples stand there than at the value next to it. */
const PILED_UP = 1.5;
const NEXT_MMHG = 1;

/**
 * The value over which a channel cannot read, mmHg: its highest value inside the measuring range, where it stays at it
 * longer than chance allows, comes back to it, and lies off from where it mostly is. Null where the channel has none.
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
  for (let i = 0; i < values.length; i++) {
    const value = values[i];
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
  return visits >= VISITS && standsOff(values, extreme, side) ? extreme : null;
}

/** True where the value lies off from where the channel mostly is, and more samples stand at it than next to it. */
function standsOff(values: Float64Array, extreme: number, side: 1 | -1): boolean {
  const { distinct, places } = placesOf(values);
  const counts = new Uint32Array(distinct.length);
  for (let i = 0; i < places.length; i++) counts[places[i]]++;
  const at = firstAtOrAfter(distinct, extreme);
  const isNext = Math.abs(extreme - distinct[at - side]) <= NEXT_MMHG;
  if (isNext && counts[at] < PILED_UP * counts[at - side]) return false;
  let rest = 0;
  let place = side > 0 ? 0 : distinct.length - 1;
  for (const enough = (1 - NEARLY_ALL) * values.length; place !== at; place += side) {
    rest += counts[place];
    if (rest > enough) break;
  }
  return side * (extreme - distinct[place]) >= LEAST_OFF_MMHG;
}
