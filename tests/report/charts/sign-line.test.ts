import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type SignPiece, signLine } from '../../../src/report/charts/sign-line.js';
import { zeroCrossings } from '../../../src/summarize/study/zero-line.js';
import { holds } from '../../support/properties.js';

const rounded = (pieces: readonly SignPiece[]) =>
  pieces
    .map((ends) => ends.map(({ x, y }) => [Number(x.toFixed(6)), Number(y.toFixed(6))]))
    .map((ends) => [...ends].sort((a, b) => a[0] - b[0] || a[1] - b[1]))
    .sort(([a], [b]) => a[0] - b[0] || a[1] - b[1]);

/** Where pieces end in the middle of a row, from left to right, each place once. */
const along = (pieces: readonly SignPiece[], row: number): number[] =>
  [...new Set(pieces.flat().flatMap(({ x, y }) => (y === row + 0.5 && x % 1 !== 0.5 ? [x] : [])))].sort(
    (a, b) => a - b,
  );

describe('the line along which a map changes its sign', () => {
  it('goes straight between the middles of cells, and on to the edge of the map', () => {
    expect(rounded(signLine([-1, 1, -1, 1], 2))).toEqual([
      [
        [1, 0],
        [1, 0.5],
      ],
      [
        [1, 0.5],
        [1, 1.5],
      ],
      [
        [1, 1.5],
        [1, 2],
      ],
    ]);
  });

  it('leans to the smaller of two values', () => {
    const pieces = rounded(signLine([-3, 1], 2));
    expect(pieces).toEqual([
      [
        [1.25, 0],
        [1.25, 0.5],
      ],
      [
        [1.25, 0.5],
        [1.25, 1],
      ],
    ]);
  });

  it('lies between rows where each has one sign', () => {
    expect(rounded(signLine([-1, -1, 1, 1], 2))).toEqual([
      [
        [0, 1],
        [0.5, 1],
      ],
      [
        [0.5, 1],
        [1.5, 1],
      ],
      [
        [1.5, 1],
        [2, 1],
      ],
    ]);
  });

  it('parts crosswise signs by their mean', () => {
    // The corners above 0 outweigh those below, and hang together over the middle.
    const pieces = rounded(signLine([-1, 3, 3, -1], 2));
    expect(pieces).toContainEqual([
      [0.5, 0.75],
      [0.75, 0.5],
    ]);
    expect(pieces).toContainEqual([
      [1.25, 1.5],
      [1.5, 1.25],
    ]);
    // And of those below 0 where they outweigh the others, so that the line goes the other way.
    const other = rounded(signLine([-3, 1, 1, -3], 2));
    expect(other).toContainEqual([
      [0.5, 1.25],
      [0.75, 1.5],
    ]);
    expect(other).toContainEqual([
      [1.25, 0.5],
      [1.5, 0.75],
    ]);
  });

  it('is not where there is one sign, or nothing', () => {
    expect(signLine([1, 2, 3, 4], 2)).toEqual([]);
    expect(signLine([null, 2, null, -1, null, 3], 3)).toEqual([]);
    expect(signLine([], 4)).toEqual([]);
  });

  it('crosses each row where the table says that it changes', () => {
    const cell = fc.oneof(
      { weight: 5, arbitrary: fc.integer({ min: -99, max: 99 }).filter((x) => x !== 0) },
      { weight: 1, arbitrary: fc.constant(null) },
    );
    holds(
      fc.property(fc.array(cell, { minLength: 24, maxLength: 24 }), (values) => {
        const columns = 6;
        const pieces = signLine(values, columns);
        // The middle of each cell as a duration: places of the chart are those of the table.
        const middles = Array.from({ length: columns }, (_, i) => i + 0.5);
        for (let row = 0; row < 4; row++) {
          const wanted = zeroCrossings(middles, values.slice(row * columns, (row + 1) * columns));
          const found = along(pieces, row);
          expect(found.length).toBe(wanted.length);
          found.forEach((x, i) => {
            expect(x).toBeCloseTo(wanted[i], 9);
          });
        }
      }),
      200,
    );
  });
});
