import { describe, expect, it } from 'vitest';
import { transducerMoved } from '../../src/clean/transducer-moved.js';
import type { ChannelKind } from '../../src/recording/channel.js';
import { recordingOf } from '../support/recordings.js';
import { findWith, levels, spansOf } from '../support/rules.js';
import { everySeconds } from '../support/signals.js';

type Part = readonly [count: number, level: number | ((k: number) => number)];

/** A level that scatters a little, as a pressure does. */
const alive = (seconds: number, level: number): Part => [seconds, (k) => level + ((k * 7) % 5) / 2];
const arterial = (...parts: Part[]): number[] => levels(...parts);

const shifted = (values: readonly number[], by: number): number[] => values.map((x) => x + by);
const marksIn = (
  map: readonly number[],
  more: Partial<Record<ChannelKind, readonly number[]>> = {},
  interval = 1,
) => {
  const icp = levels([map.length, (k) => 12 + (k % 3) / 2]);
  const pulse = { sbp: shifted(map, 40), dbp: shifted(map, -20) };
  const channels = Object.entries({ icp, map, ...pulse, ...more }).map(([kind, values]) => [
    kind,
    everySeconds(interval, values),
  ]);
  return findWith(transducerMoved, recordingOf(Object.fromEntries(channels)));
};
const moved = arterial(alive(600, 80), alive(900, 65), alive(600, 80));
const withoutPulse = { sbp: [], dbp: [] };

describe('a transducer that was moved', () => {
  it('is a jump of MAP by 10 mmHg within 10 s that stays, suspect until it is undone', () => {
    const { marks } = marksIn(moved);
    expect(spansOf(marks)).toEqual([[600, 1499]]);
    expect(marks[0]).toMatchObject({
      channel: 'map',
      rule: 'transducerMoved',
      grade: 'suspect',
      direction: 'down',
    });
  });
  it('lowered, MAP reads higher: suspect upward, so it stays in', () => {
    const { marks } = marksIn(arterial(alive(600, 80), alive(900, 95), alive(600, 80)));
    expect(marks).toMatchObject([{ direction: 'up' }]);
    const alone = marksIn(arterial(alive(600, 80), alive(900, 95), alive(600, 80)), withoutPulse);
    expect(alone.marks).toMatchObject([{ direction: 'up' }]);
  });
  it('may take a few seconds, and is seen at a sample every 10 s', () => {
    const slowly = arterial(alive(600, 80), [8, (k) => 80 - 2 * k], alive(900, 65));
    expect(marksIn(slowly).marks).toHaveLength(1);
    const { marks } = marksIn(
      arterial(alive(60, 80), alive(90, 65), alive(60, 80)),
      { icp: levels([210, (k) => 12 + (k % 3) / 2]) },
      10,
    );
    expect(spansOf(marks)).toEqual([[600, 1490]]);
  });
  it('ends after 60 min where nothing undoes it', () => {
    expect(spansOf(marksIn(arterial(alive(600, 80), alive(5400, 65))).marks)).toEqual([[600, 4200]]);
  });
  it('keeps pulse pressure', () => {
    const falls = { sbp: moved.map((x) => (x < 75 ? x + 20 : x + 40)), dbp: shifted(moved, -20) };
    expect(marksIn(moved, falls).marks).toEqual([]);
  });
  it('does not stand at a sample a minute, and says so', () => {
    const { marks, stoodAside } = marksIn(
      moved.filter((_, i) => i % 60 === 0),
      {},
      60,
    );
    expect(marks).toEqual([]);
    expect(stoodAside).toEqual(['MAP comes every 60 s; the rule needs 10 s or finer']);
  });
});

describe("what is the patient's, or something else", () => {
  it('a fall of which no pulse pressure tells: low CPP must not be left out for it', () => {
    expect(marksIn(moved, withoutPulse).marks).toEqual([]);
  });
  it('a fall of the same size that takes 40 s', () => {
    const map = arterial(alive(600, 80), [40, (k) => 80 - (15 * k) / 40], alive(900, 65));
    expect(marksIn(map).marks).toEqual([]);
  });
  it('a jump with a partner in ICP', () => {
    const icp = levels([600, 12], [900, 18], [600, 12]).map((x, k) => x + (k % 3) / 2);
    expect(marksIn(moved, { icp }).marks).toEqual([]);
  });
  it('a jump while ICP is not known: nobody can say that it stayed', () => {
    const icp = levels([500, (k) => 12 + (k % 3) / 2], [1100, Number.NaN], [500, (k) => 12 + (k % 3) / 2]);
    expect(marksIn(moved, { icp }).marks).toEqual([]);
  });
  it('a jump of 9 mmHg, and one beyond what the height of a bed explains', () => {
    expect(marksIn(arterial(alive(600, 80), alive(900, 71), alive(600, 80))).marks).toEqual([]);
    expect(marksIn(arterial(alive(600, 80), alive(900, 20), alive(600, 80))).marks).toEqual([]);
  });
  it('the line flushed, or blood drawn', () => {
    expect(marksIn(arterial(alive(600, 80), [20, 250], alive(600, 80))).marks).toEqual([]);
    expect(marksIn(arterial(alive(600, 80), [90, 8], alive(600, 80))).marks).toEqual([]);
  });
  it('a jump that is gone within 2 min', () => {
    expect(marksIn(arterial(alive(600, 80), alive(120, 65), alive(600, 80))).marks).toEqual([]);
  });
  it('the end of a frozen stretch', () => {
    const map = arterial(alive(900, 95), [900, 95], alive(900, 75));
    expect(marksIn(map).marks).toEqual([]);
  });
  it('MAP behind a hole: nobody saw it jump', () => {
    const map = arterial(alive(600, 80), [60, Number.NaN], alive(900, 65));
    expect(marksIn(map).marks).toEqual([]);
  });
  it('waves of MAP', () => {
    const map = Array.from({ length: 3600 }, (_, k) => 80 + 12 * Math.sin((2 * Math.PI * k) / 30));
    expect(marksIn(map).marks).toEqual([]);
  });
});

it('a recording without MAP or ICP has nothing to look at', () => {
  const only = recordingOf({ icp: everySeconds(1, levels([600, 12])) });
  expect(findWith(transducerMoved, only)).toEqual({ marks: [], stoodAside: [] });
});
