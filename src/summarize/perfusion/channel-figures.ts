import type { Channel } from '../../recording/channel.js';
import type { Interval } from '../../recording/interval.js';
import { type Figure, unless, type WithReasons, withReasons } from '../figure.js';
import { sumsOver } from '../piece-sums.js';
import { whyNoDose, whyNoRule } from '../resolvable.js';
import { HIGHLIGHT_MINUTES, windowMeans } from '../window-means.js';

/** A channel beside the pressures over a period, in its own unit. */
export interface ChannelFigures extends WithReasons<'mean' | 'lowest5Min' | 'highest5Min' | 'hoursBelow'> {
  readonly header: string;
  readonly decimals: number;
  readonly knownHours: number;
}

/**
 * Mean, lowest and highest 5-min mean and hours below a value of a channel that no rule cleans.
 *
 * @param belowValue null where no value is asked for
 */
export function channelFigures(
  { header, decimals, signal, nominalIntervalMs }: Channel,
  period: Interval,
  belowValue: number | null,
): ChannelFigures {
  const sums = sumsOver(signal, period, belowValue === null ? [] : [belowValue]);
  const none = sums.hours === 0 ? 'nothing is known of it in this time' : whyNoDose(nominalIntervalMs);
  const means = windowMeans(signal, period).map(({ mean }) => mean);
  const extreme = (pick: (a: number, b: number) => number): Figure =>
    unless(none ?? whyNoRule(nominalIntervalMs, HIGHLIGHT_MINUTES * 60), () =>
      means.length === 0
        ? { reason: `no ${HIGHLIGHT_MINUTES}-min window is known for at least half` }
        : means.reduce((a, b) => pick(a, b)),
    );
  return {
    header,
    decimals,
    knownHours: sums.hours,
    ...withReasons({
      mean: unless(none, () => sums.mean),
      lowest5Min: extreme(Math.min),
      highest5Min: extreme(Math.max),
      hoursBelow: unless(none, () =>
        belowValue === null ? { reason: 'no value to be below' } : sums.hoursBelow(belowValue),
      ),
    }),
  };
}
