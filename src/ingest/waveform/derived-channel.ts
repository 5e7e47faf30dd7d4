import type { Channel, ChannelKind } from '../../recording/channel.js';
import { nominalIntervalMs, signalOf } from '../../recording/sampling.js';

/** How a channel that is computed is described. */
export interface DerivedChannel {
  readonly kind: ChannelKind;
  readonly header: string;
  readonly derivedFrom: string;
  readonly decimals: number;
  /** Null: as the samples are spaced. */
  readonly intervalMs: number | null;
}

/** The order of times; null where they rise as they stand. */
function orderOf(times: Float64Array): Uint32Array | null {
  let isRising = true;
  for (let i = 1; i < times.length; i++) if (!(times[i] > times[i - 1])) isRising = false;
  if (isRising) return null;
  return Uint32Array.from(times, (_, i) => i).sort((a, b) => times[a] - times[b] || a - b);
}

/**
 * A channel of samples in any order; of those at one time the first that is no NaN counts. Null where there are none.
 *
 * @param at one time for each value, milliseconds UTC
 */
export function derivedChannel(of: DerivedChannel, at: Float64Array, samples: Float64Array): Channel | null {
  const order = orderOf(at);
  const times = new Float64Array(at.length);
  const values = new Float64Array(at.length);
  let n = 0;
  for (let k = 0; k < at.length; k++) {
    const i = order ? order[k] : k;
    if (Number.isNaN(samples[i]) || (n > 0 && times[n - 1] === at[i])) continue;
    times[n] = at[i];
    values[n++] = samples[i];
  }
  if (n === 0) return null;
  const kept = times.slice(0, n);
  const nominal = of.intervalMs ?? nominalIntervalMs(kept);
  return {
    kind: of.kind,
    header: of.header,
    source: null,
    derivedFrom: of.derivedFrom,
    signal: signalOf(kept, values.slice(0, n), nominal),
    nominalIntervalMs: nominal,
    decimals: of.decimals,
    blanks: [],
  };
}
