import { Temporal } from 'temporal-polyfill';
import { describe, expect, test } from 'vitest';
import { ZoneClock } from '../../src/recording/zone.js';
import { runPython } from '../support/python.js';
import { ingestOne, samplesOf, wall } from './support.js';
import { changesOf } from './written-exports.js';

/** Ten zones: whole and half hours, north and south, a change of half an hour, and none at all. */
const ZONES = [
  'Europe/Oslo',
  'Europe/Lisbon',
  'Europe/Athens',
  'America/Halifax',
  'America/St_Johns',
  'America/Los_Angeles',
  'Asia/Kathmandu',
  'Australia/Lord_Howe',
  'Pacific/Auckland',
  'America/Sao_Paulo',
];
const MINUTE = 60_000;
const HOUR = 60 * MINUTE;

// Outside source: python3's zoneinfo on the system's IANA zone data (Debian tzdata). For each local time the instants
// at which a clock there shows it, in whole milliseconds, exact: both folds, kept where they come back to the same digits.
const ZONEINFO_INSTANTS = `
import json, sys
from datetime import datetime, timedelta, timezone
from zoneinfo import ZoneInfo
EPOCH = datetime(1970, 1, 1)
UTC_EPOCH = datetime(1970, 1, 1, tzinfo=timezone.utc)

def instants(zone, local_ms):
    local = EPOCH + timedelta(milliseconds=local_ms)
    found = set()
    for fold in (0, 1):
        utc = local.replace(tzinfo=zone, fold=fold).astimezone(timezone.utc)
        if utc.astimezone(zone).replace(tzinfo=None) == local:
            found.add(round((utc - UTC_EPOCH) / timedelta(milliseconds=1)))
    return sorted(found)

print(json.dumps({name: [instants(ZoneInfo(name), ms) for ms in locals_]
                  for name, locals_ in json.load(sys.stdin).items()}))
`;

/** Local times around each change from 2024 to 2035: each five minutes, and a second to both sides of the edges. */
function localTimes(zone: string): number[] {
  const changes = changesOf(zone);
  const clock = (utc: number): number =>
    utc + Temporal.Instant.fromEpochMilliseconds(utc).toZonedDateTimeISO(zone).offsetNanoseconds / 1e6;
  const around = changes.flatMap((change) => {
    const [before, behind] = [clock(change - 1) + 1, clock(change)];
    const steps = Array.from({ length: 73 }, (_, i) => before + (i - 36) * 5 * MINUTE);
    const edges = [before, behind].flatMap((edge) => [edge - 1000, edge - 1, edge, edge + 1, edge + 1000]);
    return [...steps, ...edges];
  });
  // Zones without a change have their local times as well.
  const months = Array.from({ length: 144 }, (_, i) => Date.UTC(2024, i, 15, 2, 30));
  return [...around, ...months];
}

/** The instants of a local time by Temporal's own disambiguation. */
function byTemporal(zone: string, localMs: number): number[] {
  const plain = Temporal.PlainDateTime.from(new Date(localMs).toISOString().slice(0, -1));
  const at = (disambiguation: 'earlier' | 'later'): Temporal.ZonedDateTime =>
    plain.toZonedDateTime(zone, { disambiguation });
  const both = [at('earlier'), at('later')].filter((zoned) => zoned.toPlainDateTime().equals(plain));
  return [...new Set(both.map(({ epochMilliseconds }) => epochMilliseconds))];
}

const locals = Object.fromEntries(ZONES.map((zone) => [zone, localTimes(zone)]));

describe('the instants of a local time', () => {
  const outside = runPython<Record<string, number[][]>>(ZONEINFO_INSTANTS, locals);

  test('are looked up around more than a hundred changes', () => {
    expect(ZONES.reduce((sum, zone) => sum + changesOf(zone).length, 0)).toBeGreaterThan(100);
    // One in a usual hour, none in a skipped one, two in a repeated one: all three come.
    expect(new Set(Object.values(outside).flatMap((all) => all.map((found) => found.length)))).toEqual(
      new Set([0, 1, 2]),
    );
  });

  test.each(ZONES)('are those of zoneinfo and of Temporal in %s', (zone) => {
    const clock = new ZoneClock(zone);
    expect(locals[zone].map((local) => clock.toUtc(local))).toEqual(outside[zone]);
    expect(locals[zone].map((local) => byTemporal(zone, local))).toEqual(outside[zone]);
    // Backwards as well: what was looked up before must not matter.
    const again = new ZoneClock(zone);
    expect([...locals[zone]].reverse().map((local) => again.toUtc(local))).toEqual(
      [...outside[zone]].reverse(),
    );
    for (const local of locals[zone]) {
      const plain = again.toUtcPlain(local);
      if (!Number.isNaN(plain)) expect([plain]).toEqual(again.toUtc(local));
    }
  });
});

// Outside source: python3's zoneinfo; what a clock on the wall shows at an instant.
const ZONEINFO_LOCALS = `
import json, sys
from datetime import datetime, timedelta, timezone
from zoneinfo import ZoneInfo
EPOCH = datetime(1970, 1, 1)
UTC_EPOCH = datetime(1970, 1, 1, tzinfo=timezone.utc)
shown = lambda zone, ms: round(((UTC_EPOCH + timedelta(milliseconds=ms)).astimezone(zone).replace(tzinfo=None)
                                - EPOCH) / timedelta(milliseconds=1))
print(json.dumps({name: [[shown(ZoneInfo(name), ms) for ms in night] for night in nights]
                  for name, nights in json.load(sys.stdin).items()}))
`;

describe('a file without offsets over a change of the clock', () => {
  const nights = Object.fromEntries(
    ZONES.map((zone) => [
      zone,
      changesOf(zone).map((change) =>
        Array.from({ length: 37 }, (_, i) => change - 3 * HOUR + i * 10 * MINUTE),
      ),
    ]),
  );
  const shown = runPython<Record<string, number[][]>>(ZONEINFO_LOCALS, nights);

  test.each(ZONES.filter((zone) => changesOf(zone).length > 0))('is read as it was, in %s', async (zone) => {
    for (const [n, night] of nights[zone].entries()) {
      const rows = shown[zone][n].map((local, i) => `${wall(local)},${10 + (i % 7)}\n`).join('');
      const outcome = await ingestOne(`Time,ICP (mmHg)\n${rows}`, { zone });
      expect(samplesOf(outcome, 'icp').map(([t]) => Date.parse(t))).toEqual(night);
    }
  });
});
