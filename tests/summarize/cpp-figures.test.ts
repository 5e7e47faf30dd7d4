import { describe, expect, it } from 'vitest';
import { difference } from '../../src/recording/difference.js';
import { wholeOf } from '../../src/recording/pieces.js';
import { emptySignal, type Signal } from '../../src/recording/signal.js';
import { type CppFigures, cppFigures } from '../../src/summarize/pressure-figures.js';
import { everySeconds, through } from '../support/signals.js';
import { ADULT } from '../support/targets.js';

const figuresOf = (signal: Signal, intervalSeconds: number): CppFigures =>
  cppFigures({ signal, window: wholeOf(signal), intervalMs: intervalSeconds * 1000 }, ADULT);
const hoursOf = (signal: Signal): (number | null)[] => figuresOf(signal, 60).bands.map(({ hours }) => hours);

/** An hour in which CPP falls from 90 to 40 mmHg. */
const FALL = everySeconds(
  60,
  Array.from({ length: 61 }, (_, i) => 90 - (50 * i) / 60),
);

describe('the figures of CPP', () => {
  it('of a fall from 90 to 40 mmHg over an hour are the closed forms', () => {
    const figures = figuresOf(FALL, 60);
    expect(figures.meanMmHg).toBeCloseTo(65, 9);
    expect(figures.lowest5MinMmHg).toBeCloseTo(40 + (50 / 60) * 2.5, 9);
    expect(figures.hoursBelowFloor).toBeCloseTo(0.4, 9);
    expect(figures.doseBelowFloorMmHgHours).toBeCloseTo((20 * 0.4) / 2, 9);
  });
  it('lie in four bands: under 50, from 50, from 60 to 70, and over 70', () => {
    const { bands } = figuresOf(FALL, 60);
    expect(bands.map(({ fromMmHg, toMmHg }) => [fromMmHg, toMmHg])).toEqual([
      [null, 50],
      [50, 60],
      [60, 70],
      [70, null],
    ]);
    for (const [i, expected] of [0.2, 0.2, 0.2, 0.4].entries()) {
      expect(bands[i].hours).toBeCloseTo(expected, 9);
    }
  });
  it.each([
    [49.9, 0],
    [50, 1],
    [59.9, 1],
    [60, 2],
    [65, 2],
    [70, 2],
    [70.1, 3],
  ])('count an hour at exactly %s mmHg in band %i alone', (level, band) => {
    const hours = [0, 0, 0, 0];
    hours[band] = 1;
    expect(hoursOf(everySeconds(60, Array(61).fill(level)))).toEqual(hours);
  });
  it('count an hour of MAP 80.3 and ICP 20.3 mmHg as exactly 60, whatever binary numbers make of it', () => {
    for (const [map, icp, band] of [
      [80.3, 20.3, 2],
      [64.1, 14.1, 1],
      [82.9, 12.9, 2],
    ]) {
      const cpp = difference(everySeconds(60, Array(61).fill(map)), everySeconds(60, Array(61).fill(icp)));
      const hours = [0, 0, 0, 0];
      hours[band] = 1;
      expect(hoursOf(cpp), `${map} - ${icp}`).toEqual(hours);
    }
  });
  it('follow other edges, with the last inner band closed', () => {
    const child = { ...ADULT, cppFloorMmHg: 40, cppEdgesMmHg: [40, 50] };
    const flat = everySeconds(60, Array(61).fill(50));
    const { bands } = cppFigures({ signal: flat, window: wholeOf(flat), intervalMs: 60_000 }, child);
    expect(bands).toEqual([
      { fromMmHg: null, toMmHg: 40, hours: 0 },
      { fromMmHg: 40, toMmHg: 50, hours: 1 },
      { fromMmHg: 50, toMmHg: null, hours: 0 },
    ]);
  });
});

describe('the figures of CPP that cannot be shown', () => {
  it('are null with a reason where nothing is known, and so are the hours of every band', () => {
    const figures = figuresOf(emptySignal, 60);
    expect(figures.meanMmHg).toBeNull();
    expect(figures.meanMmHgReason).toBe('no CPP in this time');
    expect(figures.lowest5MinMmHgReason).toBe('no CPP in this time');
    expect(figures.bands.map(({ hours }) => hours)).toEqual([null, null, null, null]);
  });
  it('are null where one of the two channels comes too rarely', () => {
    const figures = figuresOf(
      through([
        [0, 70],
        [3600, 60],
      ]),
      600,
    );
    expect(figures.doseBelowFloorMmHgHours).toBeNull();
    expect(figures.doseBelowFloorMmHgHoursReason).toBe(
      'not resolvable at this sampling: every 600 s, needs 300 s or finer',
    );
    expect(figures.bands.map(({ hours }) => hours)).toEqual([null, null, null, null]);
  });
});
