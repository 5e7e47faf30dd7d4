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

describe('the instants of the rows of a file', () => {
  const walkThrough = (zone: string, from: number, to: number, stepMs: number): void => {
    const clock = new ZoneClock(zone);
    const reader = new ZoneClock(zone);
    let previous = Number.NEGATIVE_INFINITY;
    for (let utc = from; utc < to; utc += stepMs) {
      const read = reader.toUtcAfter(clock.toLocal(utc), previous);
      expect(read, new Date(utc).toISOString()).toBe(utc);
      previous = read;
    }
  };

  it('run on through a repeated hour, whatever the spacing of the rows', () => {
    const fold = Date.UTC(2024, 9, 27, 1);
    for (const stepMs of [1000, 5000, 60_000, 3_600_000]) {
      walkThrough('Europe/Oslo', fold - 7_200_000, fold + 7_200_000, stepMs);
    }
    walkThrough('America/Halifax', Date.UTC(2024, 10, 3, 3), Date.UTC(2024, 10, 3, 8), 60_000);
    walkThrough('Australia/Lord_Howe', Date.UTC(2024, 3, 6, 13), Date.UTC(2024, 3, 6, 18), 60_000);
  });

  it('run on over a skipped hour', () => {
    walkThrough('Europe/Oslo', Date.UTC(2024, 2, 30, 22), Date.UTC(2024, 2, 31, 4), 60_000);
    walkThrough('Australia/Lord_Howe', Date.UTC(2024, 9, 5, 12), Date.UTC(2024, 9, 5, 18), 60_000);
  });

  it('run on over days on both sides of a change', () => {
    walkThrough('Europe/Oslo', Date.UTC(2024, 9, 20), Date.UTC(2024, 10, 3), 7_200_000);
  });

  it('do not exist where a row shows a time that the clock skipped', () => {
    const clock = new ZoneClock('Europe/Oslo');
    const skipped = Date.UTC(2024, 2, 31, 2, 30);
    expect(clock.toUtc(skipped)).toEqual([]);
    expect(clock.toUtcAfter(skipped, Date.UTC(2024, 2, 31, 0, 59))).toBeNaN();
  });

  it('take the first reading where a file begins in a repeated hour', () => {
    const clock = new ZoneClock('Europe/Oslo');
    expect(clock.toUtcAfter(Date.UTC(2024, 9, 27, 2, 30), Number.NEGATIVE_INFINITY)).toBe(
      Date.UTC(2024, 9, 27, 0, 30),
    );
  });

  it('take the second reading where the first is already past, also over a gap', () => {
    const clock = new ZoneClock('Europe/Oslo');
    expect(clock.toUtcAfter(Date.UTC(2024, 9, 27, 2, 10), Date.UTC(2024, 9, 27, 0, 50))).toBe(
      Date.UTC(2024, 9, 27, 1, 10),
    );
  });

  it('are earlier than the row before where the file runs backwards, for the reader to see', () => {
    const clock = new ZoneClock('Europe/Oslo');
    const previous = Date.UTC(2024, 9, 27, 5);
    expect(clock.toUtcAfter(Date.UTC(2024, 9, 27, 2, 10), previous)).toBeLessThan(previous);
  });
});
