import { describe, expect, it } from 'vitest';
import { drawEpisodes } from '../../src/report/morning/patient-drawings.js';
import type { EpisodeFigures } from '../../src/summarize/summarize.js';
import { drawnOver } from '../support/drawn.js';
import { seconds } from '../support/shapes.js';

const NIGHT = seconds(0, 12 * 3600);

/** Forty episodes of 10 min, of which the one in the middle has the largest dose. */
const EPISODES: EpisodeFigures[] = Array.from({ length: 40 }, (_, i) => ({
  ...seconds(i * 1000, i * 1000 + 600),
  openStart: false,
  openEnd: false,
  highestMmHg: 30,
  meanMmHg: 26,
  doseMmHgHours: 20 - Math.abs(i - 20),
  lowestCppMmHg: null,
}));

describe('strips of episodes on a page', () => {
  const pressures = drawnOver(NIGHT, 'Europe/Oslo', { episodes: EPISODES });
  const starts = (episodes: readonly EpisodeFigures[]): string[] =>
    episodes.map(({ start }) => pressures.clock.format(start));
  /** A drawing of a thousand characters, whatever it shows. */
  const draw = async (_: unknown, key: string): Promise<string> => key.padEnd(1000);

  it('are by the starts of the episodes as the tables write them, in order of time', async () => {
    const strips = await drawEpisodes(pressures, EPISODES, draw);
    expect([...strips.keys()]).toEqual(starts(EPISODES));
    expect([...strips.values()].map((svg) => svg.trim())).toEqual(EPISODES.map((_, i) => `episode-${i + 1}`));
  });

  it('are those of the largest doses where all would be too much', async () => {
    const strips = await drawEpisodes(pressures, EPISODES, draw, 5999);
    expect([...strips.keys()]).toEqual(starts(EPISODES.slice(18, 23)));
    expect((await drawEpisodes(pressures, EPISODES, draw, 999)).size).toBe(0);
  });

  it('stop being drawn where the page is full', async () => {
    const drawn: string[] = [];
    const noting = (spec: unknown, key: string): Promise<string> => {
      drawn.push(key);
      return draw(spec, key);
    };
    await drawEpisodes(pressures, EPISODES, noting, 5999);
    expect(drawn.length).toBe(6);
  });

  it('are none where there are no episodes', async () => {
    expect((await drawEpisodes(pressures, [], draw)).size).toBe(0);
  });
});
