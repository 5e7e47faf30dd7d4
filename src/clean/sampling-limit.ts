import type { Channel } from '../recording/channel.js';
import { CHANNEL_NAMES } from '../recording/channel.js';

/**
 * A sentence where a channel is sampled too coarsely for a rule, null where the rule can work.
 *
 * @param coarsestSeconds longest nominal interval at which the rule can tell what it looks for
 */
export function tooCoarse(channel: Channel, coarsestSeconds: number): string | null {
  const seconds = channel.nominalIntervalMs / 1000;
  if (Number.isNaN(seconds) || seconds <= coarsestSeconds) return null;
  return `${CHANNEL_NAMES[channel.kind]} comes every ${Number(seconds.toFixed(1))} s; the rule needs ${coarsestSeconds} s or finer`;
}
