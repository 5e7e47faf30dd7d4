import { describe, expect, it } from 'vitest';
import { ZoneClock } from '../../src/recording/zone.js';
import { runPython } from '../support/python.js';

const ZONES = ['Europe/Oslo', 'America/Halifax', 'Australia/Lord_Howe', 'Asia/Kathmandu', 'UTC'];
const HOUR_MS = 3_600_000;
const YEAR = { from: Date.UTC(2024, 0, 1), hours: 366 * 24 };

/** Local time minus UTC as the runtime's own formatter shows it, in whole seconds. */
function offsetByFormatter(zone: string): (utcMs: number) => number {
  const format = new Intl.DateTimeFormat('en-GB', {
    timeZone: zone,
    hourCycle: 'h23',
    year: 'numeric',
    month: 'numeric',
    day: 'numeric',
    hour: 'numeric',
    minute: 'numeric',
    second: 'numeric',
  });
  return (utcMs) => {
    const part = Object.fromEntries(
      format.formatToParts(utcMs).map(({ type, value }) => [type, Number(value)]),
    );
    return Date.UTC(part.year, part.month - 1, part.day, part.hour, part.minute, part.second) - utcMs;
  };
}

// Outside source: python3's zoneinfo on the system's IANA zone data; offsets in whole milliseconds, exact.
const ZONEINFO_OFFSETS = `
import json, sys
from datetime import datetime, timezone
from zoneinfo import ZoneInfo
request = json.load(sys.stdin)
print(json.dumps({zone: [int(datetime.fromtimestamp(ms / 1000, timezone.utc).astimezone(ZoneInfo(zone))
                             .utcoffset().total_seconds() * 1000) for ms in request['instants']]
                  for zone in request['zones']}))
`;

const instants = Array.from({ length: YEAR.hours }, (_, hour) => YEAR.from + hour * HOUR_MS);

describe('the offset of a zone', () => {
  it('is that of the system zone data at every hour of a leap year', () => {
    const expected = runPython<Record<string, number[]>>(ZONEINFO_OFFSETS, { zones: ZONES, instants });
    for (const zone of ZONES) {
      const clock = new ZoneClock(zone);
      expect(
        instants.map((t) => clock.offsetMsAt(t)),
        zone,
      ).toEqual(expected[zone]);
    }
  });

  it.each(ZONES)('is that of the runtime formatter to the second around each change, in %s', (zone) => {
    const clock = new ZoneClock(zone);
    const offsetOf = offsetByFormatter(zone);
    // Two years backwards, then forwards: an offset that was looked up must not leak over its stretch.
    const walk = [...instants].reverse().concat(instants);
    const changes = new Set<number>();
    for (let i = 1; i < instants.length; i++) {
      let [low, high] = [instants[i - 1], instants[i]];
      if (offsetOf(low) === offsetOf(high)) continue;
      while (high - low > 1000) {
        const middle = Math.round((low + high) / 2000) * 1000;
        if (offsetOf(middle) === offsetOf(low)) low = middle;
        else high = middle;
      }
      changes.add(high);
    }
    expect(changes.size).toBe(['Asia/Kathmandu', 'UTC'].includes(zone) ? 0 : 2);
    for (const change of changes) {
      for (const second of [-3600, -1801, -1, 0, 1, 1800, 3600]) {
        const t = change + second * 1000;
        expect(clock.offsetMsAt(t), `${second} s from ${new Date(change).toISOString()}`).toBe(offsetOf(t));
      }
      expect(clock.offsetMsAt(change - 1)).toBe(offsetOf(change - 1000));
      expect(clock.offsetMsAt(change - 0.25)).toBe(offsetOf(change - 1000));
    }
    for (const t of walk) expect(clock.offsetMsAt(t)).toBe(offsetOf(t));
  });

  it('changes in Oslo at 01:00 UTC on the last Sundays of March and October', () => {
    // Source: Directive 2000/84/EC on summer-time arrangements, articles 2 and 3.
    const clock = new ZoneClock('Europe/Oslo');
    for (const [utc, before, after] of [
      [Date.UTC(2024, 2, 31, 1), 1, 2],
      [Date.UTC(2024, 9, 27, 1), 2, 1],
    ]) {
      expect(clock.offsetMsAt(utc - 1)).toBe(before * HOUR_MS);
      expect(clock.offsetMsAt(utc)).toBe(after * HOUR_MS);
    }
  });
});
