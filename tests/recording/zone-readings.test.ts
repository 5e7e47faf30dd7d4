import { describe, expect, it } from 'vitest';
import { ZoneClock } from '../../src/recording/zone.js';
import { runPython } from '../support/python.js';

const ZONES = ['Europe/Oslo', 'America/Halifax', 'Australia/Lord_Howe', 'Asia/Kathmandu', 'UTC'];
const QUARTER_MS = 900_000;

// Outside source: python3's zoneinfo. A local time is read with both folds and kept where it comes back the same.
const ZONEINFO_READINGS = `
import json, sys
from datetime import datetime, timedelta, timezone
from zoneinfo import ZoneInfo
request = json.load(sys.stdin)
def readings(zone, ms):
    naive = datetime(1970, 1, 1) + timedelta(milliseconds=ms)
    found = set()
    for fold in (0, 1):
        utc = naive.replace(tzinfo=zone, fold=fold).astimezone(timezone.utc)
        if utc.astimezone(zone).replace(tzinfo=None) == naive:
            found.add(int(utc.timestamp() * 1000))
    return sorted(found)
print(json.dumps({name: [readings(ZoneInfo(name), ms) for ms in request['local']] for name in request['zones']}))
`;

/** Every quarter of an hour of the weeks in which one of the zones changes its clock in 2024. */
const local = [
  [2, 8],
  [2, 29],
  [3, 5],
  [9, 4],
  [9, 25],
  [10, 1],
].flatMap(([month, day]) =>
  Array.from({ length: 4 * 24 * 4 }, (_, i) => Date.UTC(2024, month, day) + i * QUARTER_MS),
);

describe('the instants of a local time', () => {
  it('are those of the system zone data: one, two in a repeated hour, none in a skipped one', () => {
    const expected = runPython<Record<string, number[][]>>(ZONEINFO_READINGS, { zones: ZONES, local });
    for (const zone of ZONES) {
      const clock = new ZoneClock(zone);
      expect(
        local.map((t) => clock.toUtc(t)),
        zone,
      ).toEqual(expected[zone]);
    }
    const counts = (zone: string): number[] =>
      [0, 2].map((n) => expected[zone].filter((found) => found.length === n).length);
    // An hour is four quarters; Lord Howe moves its clock by half an hour only.
    expect(counts('Europe/Oslo')).toEqual([4, 4]);
    expect(counts('America/Halifax')).toEqual([4, 4]);
    expect(counts('Australia/Lord_Howe')).toEqual([2, 2]);
    expect(counts('Asia/Kathmandu')).toEqual([0, 0]);
    expect(counts('UTC')).toEqual([0, 0]);
  });
});
