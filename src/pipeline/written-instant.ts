import { isoTime } from '../ingest/time/calendar.js';
import type { ZoneClock } from '../recording/zone.js';

/** Milliseconds UTC of a time in a pipeline file, local where it has no offset; null where it cannot be read or does not exist. */
export function writtenInstant(text: string, clock: ZoneClock): number | null {
  const written = isoTime(text);
  if (!written) return null;
  return written.offsetMs === null
    ? (clock.toUtc(written.localMs)[0] ?? null)
    : written.localMs - written.offsetMs;
}
