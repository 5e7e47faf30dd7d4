import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { wholeOf } from '../../src/recording/pieces.js';
import { emptySignal } from '../../src/recording/signal.js';
import { stretchesPast } from '../../src/segment/stretches.js';
import { hoursAbove, hoursBelow, monitoredHours } from '../../src/summarize/time.js';
import { holds, pressures, signals } from '../support/properties.js';
import { T0, through } from '../support/signals.js';

const HOUR_MS = 3_600_000;
const inSeconds = (stretches: ReturnType<typeof stretchesPast>) =>
  stretches.map(({ state, start, end }) => [state, (start - T0) / 1000, (end - T0) / 1000]);

describe('stretches past a threshold', () => {
  const signal = through([
    [0, 12],
    [10, 32],
    [20, 32],
    [30, 12],
    [40, 12],
  ]);
  it('begin and end at exact crossings', () => {
    expect(inSeconds(stretchesPast(signal, 22, 'above'))).toEqual([
      ['within', 0, 5],
      ['past', 5, 25],
      ['within', 25, 40],
    ]);
  });
  it('below are the others, but for time on the threshold itself', () => {
    expect(inSeconds(stretchesPast(signal, 22, 'below'))).toEqual([
      ['past', 0, 5],
      ['within', 5, 25],
      ['past', 25, 40],
    ]);
    expect(inSeconds(stretchesPast(signal, 32, 'above'))).toEqual([['within', 0, 40]]);
    expect(inSeconds(stretchesPast(signal, 32, 'below'))).toEqual([
      ['past', 0, 10],
      ['within', 10, 20],
      ['past', 20, 40],
    ]);
  });
  it('are not parted where the signal only touches the threshold', () => {
    const touching = through([
      [0, 30],
      [10, 22],
      [20, 30],
    ]);
    expect(inSeconds(stretchesPast(touching, 22, 'above'))).toEqual([['past', 0, 20]]);
  });
  it('are parted by what is unknown', () => {
    const holed = { ...signal, known: Uint8Array.of(1, 0, 1, 1, 0) };
    expect(inSeconds(stretchesPast(holed, 22, 'above'))).toEqual([
      ['within', 0, 5],
      ['past', 5, 10],
      ['unknown', 10, 20],
      ['past', 20, 25],
      ['within', 25, 40],
    ]);
  });
  it('are none where nothing is known', () => {
    expect(stretchesPast(emptySignal, 22, 'above')).toEqual([]);
  });

  it('fill the signal without holes, never twice the same state in a row, and agree with the measures', () => {
    const sides = [
      ['above', hoursAbove],
      ['below', hoursBelow],
    ] as const;
    holds(
      fc.property(signals(), pressures, fc.constantFrom(...sides), (random, threshold, [side, hoursPast]) => {
        const stretches = stretchesPast(random, threshold, side);
        stretches.forEach(({ state, start, end }, i) => {
          expect(start).toBeLessThan(end);
          if (i > 0) expect(start).toBe(stretches[i - 1].end);
          if (i > 0) expect(state).not.toBe(stretches[i - 1].state);
        });
        const total = (wanted: string): number =>
          stretches.reduce((sum, { state, start, end }) => sum + (state === wanted ? end - start : 0), 0);
        const whole = wholeOf(random);
        // Crossings are times of 10^12 ms with a rounding of 10^-4 ms each.
        expect(total('past') / HOUR_MS).toBeCloseTo(hoursPast(random, whole, threshold), 7);
        expect((total('past') + total('within')) / HOUR_MS).toBeCloseTo(monitoredHours(random, whole), 7);
      }),
    );
  });
});
