import { describe, expect, it } from 'vitest';
import { GrowingFloats } from '../../src/ingest/rows/growing.js';
import { Instants } from '../../src/ingest/rows/instants.js';
import { ZoneClock } from '../../src/recording/zone.js';

/** The rows of a file, those before given as instants. */
function rows(zone: string, ...before: number[]) {
  const times = new GrowingFloats();
  for (const time of before) times.push(time);
  const instants = new Instants(new ZoneClock(zone), times);
  return {
    next: (localMs: number) => instants.next(localMs),
    add: (localMs: number) => times.push(instants.next(localMs)),
    /** The file is over: its times, and whether some of them are in doubt. */
    end: () => {
      instants.finish();
      return { times: [...times.values()], isDoubtful: instants.doubtfulAt >= 0 };
    },
  };
}

describe('the instants of the rows of a file', () => {
  const walkThrough = (zone: string, from: number, to: number, stepMs: number): void => {
    const clock = new ZoneClock(zone);
    const file = rows(zone);
    const instants: number[] = [];
    for (let utc = from; utc < to; utc += stepMs) {
      file.add(clock.toLocal(utc));
      instants.push(utc);
    }
    expect(file.end()).toEqual({ times: instants, isDoubtful: false });
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
    expect(rows('Europe/Oslo', Date.UTC(2024, 2, 31, 0, 59)).next(skipped)).toBeNaN();
  });

  it('take the first reading where a file is all in a repeated hour, and are in doubt', () => {
    const file = rows('Europe/Oslo');
    file.add(Date.UTC(2024, 9, 27, 2, 30));
    expect(file.end()).toEqual({ times: [Date.UTC(2024, 9, 27, 0, 30)], isDoubtful: true });
  });

  it('are earlier than the row before where the file runs backwards, for the reader to see', () => {
    const previous = Date.UTC(2024, 9, 27, 5);
    expect(rows('Europe/Oslo', previous).next(Date.UTC(2024, 9, 27, 2, 10))).toBeLessThan(previous);
  });
});

describe('the rows of a file in the hour that Oslo shows twice', () => {
  // Outside check: summer time (+2 h) ends at 01:00 UTC on the last Sunday of October (Directive 2000/84/EC).
  const FOLD = Date.UTC(2024, 9, 27, 1);
  const MINUTE = 60_000;
  const oslo = (utc: number): number => utc + (utc < FOLD ? 2 : 1) * 60 * MINUTE;

  /** Reads rows at these minutes from the fold, by the wall clock; gives the minutes that were understood. */
  const reread = (minutes: readonly number[]): { read: number[]; isDoubtful: boolean } => {
    const file = rows('Europe/Oslo');
    for (const minute of minutes) file.add(oslo(FOLD + minute * MINUTE));
    const { times, isDoubtful } = file.end();
    return { read: times.map((utc) => (utc - FOLD) / MINUTE), isDoubtful };
  };
  const run = (from: number, to: number): number[] =>
    Array.from({ length: to - from + 1 }, (_, i) => from + i);

  it.each([
    ['begin in the first pass and run through the second', run(-20, 90)],
    ['begin in the second pass and run on', run(20, 90)],
    ['begin and end before it', run(-200, -90)],
    ['run into the first pass and stop', run(-90, -20)],
    ['run through the first pass and stop in the second', run(-90, 20)],
    ['have a hole of 20 minutes in the first pass', [...run(-90, -50), ...run(-30, 90)]],
    ['have a hole of 40 minutes in the first pass', [...run(-90, -55), ...run(-15, 90)]],
    ['have a hole of 40 minutes in the second pass', [...run(-90, 5), ...run(45, 90)]],
    ['have a hole of two hours that ends in the first pass', [...run(-300, -165), ...run(-45, 90)]],
    ['have a hole of 40 minutes from one pass to the other', [...run(-90, -35), ...run(5, 90)]],
    ['stand newest first', run(-90, 90).reverse()],
    ['stand twice each in the first pass', run(-90, -1).flatMap((m) => [m, m])],
  ])('are all understood where they %s', (_, minutes) => {
    expect(reread(minutes)).toEqual({ read: minutes, isDoubtful: false });
  });

  it('stay a repeat where one stands twice, in either pass', () => {
    for (const at of [-30, 30]) {
      const minutes = [...run(-90, at), at, ...run(at + 1, 90)];
      expect(reread(minutes)).toEqual({ read: minutes, isDoubtful: false });
    }
  });

  it('are no second pass where the clock was set back by some minutes', () => {
    for (const back of [1, 3, 5]) {
      const minutes = [...run(-90, -30), ...run(-30 - back, -31)];
      expect(reread(minutes)).toEqual({ read: minutes, isDoubtful: false });
    }
  });

  it('are in doubt where they begin or stop inside it behind a hole, and nothing tells which pass they are', () => {
    expect(reread(run(-20, -10))).toEqual({ read: run(-20, -10), isDoubtful: true });
    expect(reread([...run(-300, -240), ...run(-20, -10)])).toEqual({
      read: [...run(-300, -240), ...run(-20, -10)],
      isDoubtful: true,
    });
  });

  it('are in doubt where a hole on both sides leaves them without a neighbour', () => {
    expect(reread([...run(-20, -10), ...run(240, 300)])).toMatchObject({ isDoubtful: true });
  });
});
