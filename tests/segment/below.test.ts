import { describe, expect, it } from 'vitest';
import type { Signal } from '../../src/recording/signal.js';
import { findEpisodes } from '../../src/segment/episodes.js';
import { type Stretch, stretchesAround22 } from '../support/excursions.js';
import { everySeconds, T0 } from '../support/signals.js';
import { OVER_22, UNDER_60 } from '../support/targets.js';

/** The same stretches with above and below the other way round, around 60 mmHg. */
const upsideDown = ({ times, values, known }: Signal): Signal => ({
  times,
  known,
  values: values.map((x) => 60 - (x - 22)),
});

describe('episodes below a threshold', () => {
  it('of CPP under 60 mmHg begin and end at the crossings', () => {
    const values = [...Array(60).fill(70), ...Array(300).fill(50), ...Array(60).fill(70)];
    expect(findEpisodes(everySeconds(1, values), UNDER_60).episodes).toEqual([
      { start: T0 + 59_500, end: T0 + 359_500, openStart: false, openEnd: false },
    ]);
  });
  it('leave out time on exactly 60 mmHg', () => {
    expect(findEpisodes(everySeconds(1, Array(900).fill(60)), UNDER_60).episodes).toEqual([]);
  });
  it('are those of the signal turned upside down', () => {
    const stretches: Stretch[] = [
      ['below', 60],
      ['above', 200],
      ['below', 30],
      ['above', 100],
      ['unknown', 120],
      ['above', 50],
      ['below', 300],
      ['above', 200],
    ];
    const signal = stretchesAround22(...stretches);
    const found = findEpisodes(signal, OVER_22);
    expect(found.episodes).toHaveLength(1);
    expect(found.undetermined).toHaveLength(1);
    expect(findEpisodes(upsideDown(signal), UNDER_60)).toEqual(found);
  });
});
