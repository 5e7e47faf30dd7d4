import { describe, expect, it } from 'vitest';
import { withoutIntervals } from '../../src/recording/signal.js';
import { findEpisodes } from '../../src/segment/episodes.js';
import { doseAboveMmHgHours } from '../../src/summarize/dose.js';
import { type Stretch, stretchesAround22 } from '../support/excursions.js';
import { seconds } from '../support/shapes.js';
import { everySeconds, T0 } from '../support/signals.js';
import { OVER_22 } from '../support/targets.js';

const found = (...stretches: Stretch[]) => {
  const { episodes, undetermined } = findEpisodes(stretchesAround22(...stretches), OVER_22);
  const plain = (list: typeof episodes) =>
    list.map(({ start, end, openStart, openEnd }) => [
      (start - T0) / 1000,
      (end - T0) / 1000,
      openStart,
      openEnd,
    ]);
  return { episodes: plain(episodes), undetermined: plain(undetermined) };
};

describe('an unknown stretch within an episode', () => {
  it('of exactly 2 min is bridged and counts in the duration', () => {
    expect(found(['below', 60], ['above', 100], ['unknown', 120], ['above', 100], ['below', 60])).toEqual({
      episodes: [[60, 380, false, false]],
      undetermined: [],
    });
  });
  it('of exactly 2 min does not count in the dose', () => {
    const signal = stretchesAround22(['above', 200], ['unknown', 120], ['above', 200]);
    const [episode] = findEpisodes(signal, OVER_22).episodes;
    expect(episode.end - episode.start).toBe(520_000);
    // 8 mmHg over the threshold for the 400 s that are known.
    expect(doseAboveMmHgHours(signal, episode, 22)).toBeCloseTo((8 * 400) / 3600, 9);
  });
  it('of 2 min 01 s ends it, and both sides are cut', () => {
    expect(found(['below', 60], ['above', 400], ['unknown', 121], ['above', 400], ['below', 60])).toEqual({
      episodes: [
        [60, 460, false, true],
        [581, 981, true, false],
      ],
      undetermined: [],
    });
  });
  it('of 2 min 01 s leaves two parts under 5 min undetermined', () => {
    expect(found(['below', 60], ['above', 299], ['unknown', 121], ['above', 299], ['below', 60])).toEqual({
      episodes: [],
      undetermined: [
        [60, 359, false, true],
        [480, 779, true, false],
      ],
    });
  });
  it('is not bridged where x is below on one side: the crossing may have been anywhere', () => {
    expect(
      found(['below', 60], ['above', 320], ['unknown', 60], ['below', 60], ['above', 320], ['below', 9]),
    ).toEqual({
      episodes: [
        [60, 380, false, false],
        [500, 820, false, false],
      ],
      undetermined: [],
    });
  });
  it('within a dip is a dip, as long as both together last 30 s at most', () => {
    const dip = (unknown: number): Stretch[] => [
      ['below', 10],
      ['unknown', unknown],
      ['below', 10],
    ];
    expect(found(['below', 60], ['above', 200], ...dip(10), ['above', 200], ['below', 60]).episodes).toEqual([
      [60, 490, false, false],
    ]);
    expect(found(['below', 60], ['above', 200], ...dip(11), ['above', 200], ['below', 60]).episodes).toEqual(
      [],
    );
  });
});

describe('an episode of which much is unknown', () => {
  it('counts where half is known', () => {
    const stretches: Stretch[] = [
      ['above', 120],
      ['unknown', 120],
      ['above', 120],
      ['unknown', 120],
      ['above', 1],
    ];
    // 241 of 481 s are known.
    expect(found(...[['below', 60] as const], ...stretches, ['below', 60]).episodes).toEqual([
      [60, 541, false, false],
    ]);
  });
  it('is none where under half is known', () => {
    const stretches: Stretch[] = [
      ['above', 100],
      ['unknown', 120],
      ['above', 60],
      ['unknown', 120],
      ['above', 79],
    ];
    // 239 of 479 s are known; no part of it lasts 5 min with half of it known.
    expect(found(...[['below', 60] as const], ...stretches, ['below', 60])).toEqual({
      episodes: [],
      undetermined: [],
    });
  });
  it('needs 80 % of the known part above, whatever the unknown part may have been', () => {
    const with80: Stretch[] = [
      ['above', 60],
      ['unknown', 120],
      ['above', 60],
      ['below', 30],
      ['above', 60],
    ];
    // 180 of 210 known seconds are above: 86 %.
    expect(found(['below', 60], ...with80, ['below', 60]).episodes).toEqual([[60, 390, false, false]]);
    const under80: Stretch[] = [
      ['above', 60],
      ['unknown', 120],
      ['above', 30],
      ['below', 30],
      ['above', 60],
    ];
    // 150 of 180 known seconds are above, but the whole lasts 5 min exactly: 83 % is still enough.
    expect(found(['below', 60], ...under80, ['below', 60]).episodes).toEqual([[60, 360, false, false]]);
    const notEnough: Stretch[] = [
      ['above', 50],
      ['unknown', 120],
      ['above', 20],
      ['below', 30],
      ['above', 20],
      ['below', 30],
      ['above', 50],
    ];
    // 140 of 200 known seconds: 70 %.
    expect(found(['below', 60], ...notEnough, ['below', 60]).episodes).toEqual([]);
  });
});

describe('a cough that was removed from the middle', () => {
  it('leaves one episode with a hole, and dose without the cough', () => {
    const values = Array.from({ length: 700 }, (_, s) =>
      s < 100 || s >= 500 ? 12 : s >= 290 && s < 300 ? 62 : 32,
    );
    const signal = withoutIntervals(everySeconds(1, values), [seconds(290, 299)]);
    const { episodes } = findEpisodes(signal, OVER_22);
    expect(episodes).toEqual([{ ...seconds(99.5, 499.5), openStart: false, openEnd: false }]);
    // 389 known seconds at 10 mmHg over the threshold, and two corners of half a second.
    expect(doseAboveMmHgHours(signal, episodes[0], 22)).toBeCloseTo((10 * 388 + 10 * 0.5) / 3600, 9);
  });
});

describe('an episode that the data cut', () => {
  it('is open at the start where the recording begins above', () => {
    expect(found(['above', 300], ['below', 60])).toEqual({
      episodes: [[0, 300, true, false]],
      undetermined: [],
    });
  });
  it('is open at the end where the recording ends above', () => {
    expect(found(['below', 60], ['above', 300])).toEqual({
      episodes: [[60, 360, false, true]],
      undetermined: [],
    });
  });
  it('is open at both ends where the whole recording is above', () => {
    expect(found(['above', 900]).episodes).toEqual([[0, 900, true, true]]);
  });
  it('is undetermined where it is shorter than 5 min', () => {
    expect(found(['above', 299], ['below', 600], ['above', 10])).toEqual({
      episodes: [],
      undetermined: [
        [0, 299, true, false],
        [899, 909, false, true],
      ],
    });
  });
  it('is not undetermined where nothing cuts it: it is just too short', () => {
    expect(found(['below', 60], ['above', 200], ['below', 600])).toEqual({ episodes: [], undetermined: [] });
  });
  it('is undetermined too where scattered peaks hang on the part that is cut', () => {
    // Peaks of a second for 5 min, and 3 min above that the data cut: those 3 min may belong to an episode.
    const peaks: Stretch[] = Array.from({ length: 11 }, () => [
      ['below', 29] as const,
      ['above', 1] as const,
    ]).flat();
    expect(found(['below', 60], ...peaks, ['below', 29], ['above', 180])).toEqual({
      episodes: [],
      undetermined: [[60 + 330 + 29 - 30, 60 + 330 + 29 + 180, false, true]],
    });
    expect(found(['above', 180], ...peaks, ['below', 60])).toEqual({
      episodes: [],
      undetermined: [[0, 180 + 30, true, false]],
    });
  });
  it('is undetermined beside an episode that scattered peaks join to it', () => {
    const peaks: Stretch[] = Array.from({ length: 11 }, () => [
      ['below', 29] as const,
      ['above', 1] as const,
    ]).flat();
    const { episodes, undetermined } = found(
      ['below', 60],
      ['above', 320],
      ...peaks,
      ['below', 29],
      ['above', 180],
    );
    expect(episodes).toHaveLength(1);
    expect(undetermined.map(([, end, , openEnd]) => [end, openEnd])).toEqual([
      [60 + 320 + 330 + 29 + 180, true],
    ]);
  });
});
