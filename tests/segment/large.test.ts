import { expect, it } from 'vitest';
import { findEpisodes } from '../../src/segment/episodes.js';
import { everySeconds } from '../support/signals.js';
import { OVER_22 } from '../support/targets.js';

/** Noise between -1 and 1 from a linear congruence (the constants of a well known one; value from memory). */
function noise(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 31 - 1;
  };
}

// A day and more of noise that crosses the threshold tens of thousands of times: quadratic work would not end here.
it.each([
  ['half of the time above', 22],
  ['about 80 % of the time above', 23.8],
  ['nearly always above', 24.9],
])('a noisy signal of 200,000 samples around the threshold is done with, %s', (_, level) => {
  const next = noise(11);
  const signal = everySeconds(
    1,
    Array.from({ length: 200_000 }, () => level + 3 * next()),
  );
  const { episodes } = findEpisodes(signal, OVER_22);
  if (level === 22) expect(episodes).toEqual([]);
  else expect(episodes.length).toBeGreaterThan(0);
});
