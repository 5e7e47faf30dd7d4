import type { LoggedAlarm } from '../ingest/tables/logged-alarms.js';
import { CHANNEL_NAMES, CHANNEL_UNITS, type ChannelKind, type ChannelUnit } from '../recording/channel.js';
import { shorten } from '../recording/problem.js';

const UNITS: Readonly<Record<ChannelUnit, string>> = {
  'mm[Hg]': ' mmHg',
  '/min': '/min',
  '%': ' %',
  Cel: ' °C',
};

/** `22 mmHg`; a limit that was converted from another unit has one decimal. */
const limitText = (channel: ChannelKind, value: number): string =>
  `${Number(value.toFixed(1))}${UNITS[CHANNEL_UNITS[channel]]}`;

const capital = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;

/**
 * What an alarm was about, in few words: `ICP above 22 mmHg`, `CPP below its limit`; the words of the log where its
 * parameter is no channel, or where neither side nor limit is told.
 */
export function alarmWords({ parameter, side, limit, message }: LoggedAlarm): string {
  const { channel, text } = parameter;
  if (channel === null) return shorten(text);
  const value = limit?.value ?? null;
  if (side === null && value === null) return shorten(message ?? text);
  const name = capital(CHANNEL_NAMES[channel]);
  if (side === null) return `${name}, limit ${limitText(channel, value ?? Number.NaN)}`;
  const past = side === 'upper' ? 'above' : 'below';
  return value === null ? `${name} ${past} its limit` : `${name} ${past} ${limitText(channel, value)}`;
}
