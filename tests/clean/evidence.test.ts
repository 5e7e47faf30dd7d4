import { describe, expect, it } from 'vitest';
import { mapRiseOver } from '../../src/clean/evidence.js';
import { recordingOf } from '../support/recordings.js';
import { levels } from '../support/rules.js';
import { seconds } from '../support/shapes.js';
import { everySeconds } from '../support/signals.js';

const riseIn = (map: readonly number[], from: number, to: number) =>
  mapRiseOver(recordingOf({ icp: everySeconds(1, map), map: everySeconds(1, map) }), seconds(from, to));
/** Scatter of a few mmHg that repeats every 17 s. */
const noise = (k: number): number => 80 + ((k * 7) % 17) / 2 - 4;

describe('MAP in the seconds of an excursion', () => {
  it('rose where a quarter of its samples stand over the minute before', () => {
    expect(riseIn(levels([120, 80], [6, 95], [120, 80]), 120, 125)).toBe(15);
    expect(riseIn(levels([120, 80], [6, 84], [120, 80]), 120, 125)).toBeUndefined();
  });
  it('did not where only its own scatter, or a single sample, is high', () => {
    expect(riseIn(levels([300, noise]), 120, 240)).toBeUndefined();
    expect(riseIn(levels([120, 80], [1, 95], [120, 80]), 110, 130)).toBeUndefined();
  });
  it('is seen in a train of coughs, each of which makes the minute before the next uneven', () => {
    const train = Array.from({ length: 6 }, () => levels([12, (k) => 80 + (k % 3)], [6, 92])).flat();
    const map = levels([120, (k) => 80 + (k % 3)]).concat(train);
    expect(riseIn(map, 120 + 5 * 18 + 12, 120 + 6 * 18)).toBeGreaterThanOrEqual(10);
  });
  it('is not known where MAP is not', () => {
    expect(
      mapRiseOver(recordingOf({ icp: everySeconds(1, levels([60, 12])) }), seconds(10, 20)),
    ).toBeUndefined();
  });
});
