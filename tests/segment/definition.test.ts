import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Signal } from '../../src/recording/signal.js';
import { findEpisodes } from '../../src/segment/episodes.js';
import { hoursAbove, monitoredHours } from '../../src/summarize/time.js';
import { holds, signals } from '../support/properties.js';
import { OVER_22 } from '../support/targets.js';

/** Values around 22 mmHg, short pieces: dips, bridges and solid stretches of all lengths. */
const wavering = signals(40_000).map(
  (signal): Signal => ({
    ...signal,
    values: signal.values.map((x, i) => (i % 5 === 0 ? 21 : 23) + (Math.round(x * 10) % 30) / 10),
  }),
);
const HOUR_MS = 3_600_000;

describe('every episode keeps the definition, on random signals', () => {
  it('lasts 5 min, is known for half of it, and above for 80 % of what is known', () => {
    let episodes = 0;
    holds(
      fc.property(wavering, (signal) => {
        for (const episode of findEpisodes(signal, OVER_22).episodes) {
          episodes++;
          const length = (episode.end - episode.start) / HOUR_MS;
          const known = monitoredHours(signal, episode);
          expect(length).toBeGreaterThanOrEqual(300 / 3600 - 1e-6);
          expect(known).toBeGreaterThanOrEqual(length / 2 - 1e-6);
          expect(hoursAbove(signal, episode, 22)).toBeGreaterThanOrEqual(0.8 * known - 1e-6);
        }
      }),
      500,
    );
    expect(episodes).toBeGreaterThan(200);
  });

  it('is undetermined only where the data cut it, and only under 5 min', () => {
    let undetermined = 0;
    holds(
      fc.property(wavering, (signal) => {
        for (const { start, end, openStart, openEnd } of findEpisodes(signal, OVER_22).undetermined) {
          undetermined++;
          expect(openStart || openEnd).toBe(true);
          expect(end - start).toBeLessThan(300_000);
        }
      }),
    );
    expect(undetermined).toBeGreaterThan(50);
  });

  it('shares no time with another, and they come in order', () => {
    holds(
      fc.property(wavering, (signal) => {
        const { episodes, undetermined } = findEpisodes(signal, OVER_22);
        const all = [...episodes, ...undetermined].sort((a, b) => a.start - b.start);
        all.forEach(({ start }, i) => {
          if (i > 0) expect(start).toBeGreaterThanOrEqual(all[i - 1].end);
        });
        expect(episodes.map(({ start }) => start)).toEqual(
          episodes.map(({ start }) => start).sort((a, b) => a - b),
        );
      }),
    );
  });

  it('misses no stretch that is above without a break for 5 min', () => {
    holds(
      fc.property(wavering, (signal) => {
        const { episodes } = findEpisodes(signal, OVER_22);
        const solid = findEpisodes(signal, { ...OVER_22, dipSeconds: 0, bridgeSeconds: 0 }).episodes;
        for (const { start, end } of solid) {
          expect(episodes.some((episode) => episode.start <= start && end <= episode.end)).toBe(true);
        }
      }),
      500,
    );
  });
});
