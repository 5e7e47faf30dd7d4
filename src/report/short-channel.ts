import { CHANNEL_NAMES, type ChannelKind } from '../recording/channel.js';

/** A channel as it is called where room is short. */
export const shortChannel = (channel: ChannelKind): string =>
  channel === 'icpDrain' ? 'Drain' : CHANNEL_NAMES[channel];
