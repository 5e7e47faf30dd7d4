import { describe, expect, it } from 'vitest';
import { findEpisodes } from '../../src/segment/episodes.js';
import { stretchesAround22 } from '../support/excursions.js';
import { everySeconds, T0 } from '../support/signals.js';
import { OVER_22 } from '../support/targets.js';

const at = (seconds: number): number => T0 + seconds * 1000;

/** At 1 Hz: 12 mmHg, then up to 32 within one second so that 22 is crossed at `from` and, back, at `to`. */
function betweenCrossings(from: number, to: number): ReturnType<typeof everySeconds> {
  // A sample on each crossing keeps whole seconds exact: the flanks reach one second to both sides.
  const level = (s: number): number => {
    if (s === from || s === to) return 22;
    return s > from && s < to ? 32 : 12;
  };
  return everySeconds(
    1,
    Array.from({ length: to + 200 }, (_, s) => level(s)),
  );
}

describe('the duration of an episode, at 1 Hz', () => {
  it('4 min 59 s between the crossings is none', () => {
    expect(findEpisodes(betweenCrossings(100, 399), OVER_22)).toEqual({ episodes: [], undetermined: [] });
  });
  it('5 min 00 s between the crossings is one, from crossing to crossing', () => {
    expect(findEpisodes(betweenCrossings(100, 400), OVER_22)).toEqual({
      episodes: [{ start: at(100), end: at(400), openStart: false, openEnd: false }],
      undetermined: [],
    });
  });
  it('counts fractions of a second: crossings lie between the samples', () => {
    // From 12 to 32 in the second before the first sample above: half a second on each side belongs to it.
    const plateau = (samples: number) =>
      everySeconds(1, [...Array(60).fill(12), ...Array(samples).fill(32), ...Array(60).fill(12)]);
    expect(findEpisodes(plateau(300), OVER_22).episodes).toEqual([
      { start: at(59.5), end: at(359.5), openStart: false, openEnd: false },
    ]);
    expect(findEpisodes(plateau(299), OVER_22).episodes).toEqual([]);
  });
  it('is met at exactly 5 min, whatever the last bits of the crossings are', () => {
    // Up from 22 - a to 22 + b and down from 22 + 3 a to 22 - 3 b cross after the same share of their seconds.
    for (let a = 1; a <= 99; a += 7) {
      for (let b = 1; b <= 99; b += 5) {
        const [low, high] = [22 - a / 10, 22 + b / 10];
        const [high2, low2] = [22 + (3 * a) / 10, 22 - (3 * b) / 10];
        const values = [...Array(30).fill(low), ...Array(299).fill(high), high2, ...Array(30).fill(low2)];
        const { episodes } = findEpisodes(everySeconds(1, values), OVER_22);
        expect(episodes, `${low} to ${high}`).toHaveLength(1);
        expect(episodes[0].end - episodes[0].start).toBeCloseTo(300_000, 2);
      }
    }
  });
  it('is not begun by a signal that stays on the threshold', () => {
    expect(findEpisodes(everySeconds(1, Array(900).fill(22)), OVER_22)).toEqual({
      episodes: [],
      undetermined: [],
    });
  });
  it('does not depend on the sampling: minute data with the same lines give the same episode', () => {
    const minutes = everySeconds(60, [12, 12, 32, 32, 32, 32, 32, 12, 12]);
    expect(findEpisodes(minutes, OVER_22).episodes).toEqual([
      { start: at(90), end: at(390), openStart: false, openEnd: false },
    ]);
  });
  it('finds each of two episodes that more than a dip parts', () => {
    const signal = stretchesAround22(
      ['below', 60],
      ['above', 300],
      ['below', 120],
      ['above', 400],
      ['below', 60],
    );
    expect(findEpisodes(signal, OVER_22).episodes.map(({ start, end }) => [start, end])).toEqual([
      [at(60), at(360)],
      [at(480), at(880)],
    ]);
  });
  it('finds nothing in no signal', () => {
    expect(findEpisodes(everySeconds(1, []), OVER_22)).toEqual({ episodes: [], undetermined: [] });
    expect(findEpisodes(everySeconds(1, [30]), OVER_22)).toEqual({ episodes: [], undetermined: [] });
  });
  it('follows the rule that it is given', () => {
    const signal = stretchesAround22(['below', 60], ['above', 120], ['below', 60]);
    expect(findEpisodes(signal, { ...OVER_22, minSeconds: 120 }).episodes).toHaveLength(1);
    expect(findEpisodes(signal, { ...OVER_22, minSeconds: 121 }).episodes).toHaveLength(0);
    expect(findEpisodes(signal, { ...OVER_22, minSeconds: 60, threshold: 31 }).episodes).toHaveLength(0);
  });
});
