import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Signal, withoutIntervals } from '../../src/recording/signal.js';
import { type LinePoint, minMaxLine } from '../../src/report/charts/reduce.js';
import { removedLine } from '../../src/report/charts/removed-line.js';
import { everySeconds, T0 } from '../support/signals.js';

const removed = (from: number, to: number) =>
  ({
    channel: 'icp',
    rule: 'briefSpike',
    grade: 'removed',
    start: T0 + from * 1000,
    end: T0 + to * 1000,
  }) as const;

/** A signal of a sample a second whose pieces are known where the second list says so. */
const pieces = (values: readonly number[], known: readonly boolean[]): Signal => ({
  times: Float64Array.from(values, (_, i) => T0 + i * 1000),
  values: Float64Array.from(values),
  known: Uint8Array.from(values, (_, i) => (i < values.length - 1 && known[i] ? 1 : 0)),
});

/** Samples that touch a known piece, by the pixel column that they stand in. */
function byColumn({ values, known }: Signal, columns: number): Map<number, number[]> {
  const found = new Map<number, number[]>();
  values.forEach((value, i) => {
    if (!known[i] && !(i > 0 && known[i - 1])) return;
    const column = Math.min(columns - 1, Math.floor((i / (values.length - 1)) * columns));
    found.set(column, [...(found.get(column) ?? []), value]);
  });
  return found;
}

const secondsOf = ({ x }: LinePoint): number => Math.round(x * 60);

describe('a line reduced to pixels', () => {
  const series = fc.array(fc.tuple(fc.integer({ min: -5, max: 80 }), fc.boolean()), {
    minLength: 2,
    maxLength: 400,
  });
  const drawn = fc.tuple(series, fc.integer({ min: 1, max: 60 })).map(([samples, columns]) => {
    const signal = pieces(
      samples.map(([value]) => value),
      samples.map(([, known]) => known),
    );
    const window = { start: T0, end: T0 + (samples.length - 1) * 1000 };
    const columnOf = (point: LinePoint): number =>
      Math.min(columns - 1, Math.floor((secondsOf(point) / (samples.length - 1)) * columns));
    return { signal, columns, columnOf, points: minMaxLine(signal, window, columns) };
  });

  it('keeps the first, lowest, highest and last sample of each pixel column in time order, and no more', () => {
    fc.assert(
      fc.property(drawn, ({ signal, columns, columnOf, points }) => {
        const all = byColumn(signal, columns);
        expect([...new Set(points.map(columnOf))]).toEqual([...all.keys()]);
        for (const [column, values] of all) {
          const ys = points.filter((point) => columnOf(point) === column).map(({ y }) => y);
          expect(ys.length).toBeLessThanOrEqual(4);
          expect([ys[0], Math.min(...ys), Math.max(...ys), ys.at(-1)]).toEqual([
            values[0],
            Math.min(...values),
            Math.max(...values),
            values.at(-1),
          ]);
        }
        const order = points.map(({ x }) => x);
        expect(order).toEqual([...new Set(order)].sort((a, b) => a - b));
        for (const point of points) expect(point.y).toBe(signal.values[secondsOf(point)]);
      }),
    );
  });

  it('breaks between columns where nothing is known across their border, and nowhere else', () => {
    fc.assert(
      fc.property(drawn, ({ signal, columnOf, points }) => {
        points.slice(1).forEach((point, i) => {
          const before = points[i];
          const pieces = signal.known.subarray(secondsOf(before), secondsOf(point));
          const isDrawn = before.run === point.run;
          if (columnOf(before) === columnOf(point)) expect(isDrawn).toBe(true);
          else expect(isDrawn).toBe(pieces.every((known) => known === 1));
        });
      }),
    );
  });

  it('keeps a channel that comes and goes every second within four points a pixel', () => {
    const day = Array.from({ length: 86_401 }, (_, i) => (i * 7919) % 40);
    const signal = pieces(
      day,
      day.map((_, i) => i % 2 === 0),
    );
    const points = minMaxLine(signal, { start: T0, end: T0 + 86_400_000 }, 780);
    expect(points.length).toBeLessThanOrEqual(4 * 780);
    expect(Math.max(...points.map(({ y }) => y))).toBe(39);
  });

  it('draws gaps as gaps: a run for each stretch that is known', () => {
    const signal = withoutIntervals(everySeconds(1, [1, 2, 3, 4, 5, 6, 7]), [
      { start: T0 + 3000, end: T0 + 3000 },
    ]);
    const points = minMaxLine(signal, { start: T0, end: T0 + 6000 }, 100);
    expect(points.map(({ y, run }) => [y, run])).toEqual([
      [1, 1],
      [2, 1],
      [3, 1],
      [5, 2],
      [6, 2],
      [7, 2],
    ]);
  });

  it('begins and ends on the edge of the window where it is known across it', () => {
    const signal = everySeconds(60, [0, 60, 120, 60, 0]);
    const line = minMaxLine(signal, { start: T0 + 30_000, end: T0 + 200_000 }, 100);
    expect(line.map(({ x, y, run }) => [x * 60, y, run])).toEqual([
      [0, 30, 1],
      [30, 60, 1],
      [90, 120, 1],
      [150, 60, 1],
      [170, 40, 1],
    ]);
    expect(minMaxLine(signal, { start: T0 + 70_000, end: T0 + 80_000 }, 100).map(({ y }) => y)).toEqual([
      70, 80,
    ]);
    const gap = withoutIntervals(signal, [{ start: T0 + 60_000, end: T0 + 60_000 }]);
    expect(minMaxLine(gap, { start: T0 + 30_000, end: T0 + 100_000 }, 100)).toEqual([]);
  });

  it('is nothing where there is nothing: no sample, one sample, a window of no length', () => {
    const window = { start: T0, end: T0 + 60_000 };
    expect(minMaxLine(everySeconds(1, []), window, 100)).toEqual([]);
    expect(minMaxLine(everySeconds(1, [12]), window, 100)).toEqual([]);
    expect(minMaxLine(everySeconds(1, [12, 13]), { start: T0, end: T0 }, 100)).toEqual([]);
  });
});

describe('what was removed', () => {
  const night = { start: T0, end: T0 + 4000 };

  it('is drawn with one sample more at both ends', () => {
    const raw = everySeconds(1, [1, 2, 60, 4, 5]);
    const line = removedLine(raw, [removed(2, 2)], 'icp', night, 100);
    expect(line.map(({ x, y }) => [x * 60, y])).toEqual([
      [1, 2],
      [2, 60],
      [3, 4],
    ]);
    expect(removedLine(raw, [removed(2, 2)], 'map', night, 100)).toEqual([]);
  });

  it('is drawn up to the edges of the window where it lies across them', () => {
    const raw = everySeconds(1, [1, 2, 60, 4, 5]);
    const line = removedLine(raw, [removed(0, 4)], 'icp', { start: T0 + 500, end: T0 + 3500 }, 100);
    expect(line.map(({ x, y }) => [Math.round(x * 60_000), y])).toEqual([
      [0, 1.5],
      [500, 2],
      [1500, 60],
      [2500, 4],
      [3000, 4.5],
    ]);
  });

  it('stays within four points a pixel however much was removed, and loses no peak', () => {
    const raw = everySeconds(
      1,
      Array.from({ length: 40_000 }, (_, i) => (i % 8 === 3 ? 50 + (i % 13) : 12)),
    );
    const coughs = Array.from({ length: 5000 }, (_, i) => removed(i * 8 + 3, i * 8 + 3));
    const line = removedLine(raw, coughs, 'icp', { start: T0, end: T0 + 40_000_000 }, 780);
    expect(line.length).toBeLessThanOrEqual(4 * 780);
    expect(Math.max(...line.map(({ y }) => y))).toBe(62);
    expect(new Set(line.map(({ x }) => Math.floor((x * 780) / (40_000 / 60)))).size).toBe(780);
  });
});
