import type { Interval } from '../recording/interval.js';
import { piecesWithin } from '../recording/pieces.js';
import type { Signal } from '../recording/signal.js';
import { HOUR_MS } from './hour.js';

/** A range of values; the lower end belongs to it, the upper one where `closed`. */
export interface Band {
  readonly from: number;
  readonly to: number;
  readonly closed: boolean;
}

/**
 * Time and area of x(t) in the cells that levels cut its values into, crossings exact. With n levels there are 2n + 1
 * cells: cell 2k + 1 is the value of level k, and cell 2k lies between level k - 1 and level k.
 */
export class PieceSums {
  private readonly cellMs: Float64Array;
  /** Integral of x - reference, in value x ms; the reference of a cell is the level under it, of the lowest the one over it. */
  private readonly cellArea: Float64Array;
  private readonly references: Float64Array;
  /** The levels, between minus and plus infinity. */
  private readonly bounds: Float64Array;
  private readonly edges: Float64Array;

  /** @param levels rising, in the signal's unit */
  constructor(readonly levels: readonly number[]) {
    const cells = 2 * levels.length + 1;
    this.cellMs = new Float64Array(cells);
    this.cellArea = new Float64Array(cells);
    this.references = Float64Array.from(
      { length: cells },
      (_, cell) => levels[Math.max(0, (cell - 1) >> 1)] ?? 0,
    );
    this.edges = Float64Array.from(levels);
    this.bounds = Float64Array.of(Number.NEGATIVE_INFINITY, ...levels, Number.POSITIVE_INFINITY);
  }

  /** Adds the pieces from sample `first` to sample `last` that are known. */
  addPieces({ times, values, known }: Signal, first: number, last: number): void {
    const { cellMs, cellArea, bounds } = this;
    let cell = 0;
    // Values that lie between these are in the cell; none are before the first known piece.
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    let reference = 0;
    // Sums of the cell in which the signal stays at present, kept in registers.
    let ms = 0;
    let area = 0;
    for (let i = first; i < last; i++) {
      if (known[i] === 0) continue;
      const x0 = values[i];
      const x1 = values[i + 1];
      const width = times[i + 1] - times[i];
      if (x0 > low && x0 < high && x1 > low && x1 < high) {
        ms += width;
        area += ((x0 + x1) / 2 - reference) * width;
        continue;
      }
      cellMs[cell] += ms;
      cellArea[cell] += area;
      ms = 0;
      area = 0;
      this.addPiece(x0, x1, width);
      const under = this.levelsUnder(x1);
      cell = 2 * under;
      low = bounds[under];
      high = bounds[under + 1];
      reference = this.references[cell];
    }
    cellMs[cell] += ms;
    cellArea[cell] += area;
  }

  /** Adds the line from x0 to x1 over `width` milliseconds. */
  addPiece(x0: number, x1: number, width: number): void {
    const { edges, bounds, references, cellMs, cellArea } = this;
    if (x0 === x1) {
      const under = this.levelsUnder(x0);
      const cell = edges[under] === x0 ? 2 * under + 1 : 2 * under;
      cellMs[cell] += width;
      cellArea[cell] += (x0 - references[cell]) * width;
      return;
    }
    const lowest = Math.min(x0, x1);
    const highest = Math.max(x0, x1);
    let under = this.levelsUnder(lowest);
    // From a level the line goes straight into the cell over it.
    if (edges[under] === lowest) under++;
    const perValue = width / (highest - lowest);
    let left = width;
    for (let from = lowest; from < highest; under++) {
      const bound = bounds[under + 1];
      const to = Math.min(bound, highest);
      // What is left goes to the last one, so that no part of the width is lost to rounding.
      const part = to === highest ? Math.max(0, left) : perValue * (to - from);
      left -= part;
      cellMs[2 * under] += part;
      cellArea[2 * under] += ((from + to) / 2 - references[2 * under]) * part;
      from = to;
    }
  }

  /** Adds the sums of other pieces over the same levels. */
  add(other: PieceSums): void {
    for (let cell = 0; cell < this.cellMs.length; cell++) {
      this.cellMs[cell] += other.cellMs[cell];
      this.cellArea[cell] += other.cellArea[cell];
    }
  }

  /** Hours over which x is known. */
  get hours(): number {
    return this.hoursOfCells(0, this.cellMs.length);
  }

  /** Time-weighted mean; NaN where nothing is known. */
  get mean(): number {
    let area = 0;
    let ms = 0;
    for (let cell = 0; cell < this.cellMs.length; cell++) {
      area += this.cellArea[cell] + this.references[cell] * this.cellMs[cell];
      ms += this.cellMs[cell];
    }
    return area / ms;
  }

  /** Hours over which x > level. */
  hoursAbove(level: number): number {
    return this.hoursOfCells(this.cellOf(level) + 1, this.cellMs.length);
  }

  /** Hours over which x < level. */
  hoursBelow(level: number): number {
    return this.hoursOfCells(0, this.cellOf(level));
  }

  /** Hours over which x lies in the band; its finite ends are levels. */
  hoursIn({ from, to, closed }: Band): number {
    if (from > to || (from === to && !closed)) return 0;
    const first = from === Number.NEGATIVE_INFINITY ? 0 : this.cellOf(from);
    const end = to === Number.POSITIVE_INFINITY ? this.cellMs.length : this.cellOf(to) + (closed ? 1 : 0);
    return this.hoursOfCells(first, end);
  }

  /** Integral of max(0, x - level), value x hours: mmHg.h for a signal in mmHg. */
  doseAbove(level: number): number {
    let area = 0;
    for (let cell = this.cellOf(level) + 1; cell < this.cellMs.length; cell++) {
      area += this.cellArea[cell] + (this.references[cell] - level) * this.cellMs[cell];
    }
    return area / HOUR_MS;
  }

  /** Integral of max(0, level - x), value x hours. */
  doseBelow(level: number): number {
    let area = 0;
    for (let cell = 0; cell < this.cellOf(level); cell++) {
      area += (level - this.references[cell]) * this.cellMs[cell] - this.cellArea[cell];
    }
    // A difference of two sums: rounding alone may leave it under nothing.
    return Math.max(0, area) / HOUR_MS;
  }

  private hoursOfCells(first: number, end: number): number {
    let ms = 0;
    for (let cell = first; cell < end; cell++) ms += this.cellMs[cell];
    return ms / HOUR_MS;
  }

  /** How many levels are smaller than x. */
  private levelsUnder(x: number): number {
    const { edges } = this;
    let under = 0;
    while (under < edges.length && edges[under] < x) under++;
    return under;
  }

  private cellOf(level: number): number {
    const place = this.levels.indexOf(level);
    if (place < 0) throw new RangeError(`${level} is none of the levels ${this.levels.join(', ')}`);
    return 2 * place + 1;
  }
}

/** Levels in the order that `PieceSums` needs, each once; infinite ones left out. */
export const risingLevels = (...levels: readonly number[]): number[] =>
  [...new Set(levels)].filter(Number.isFinite).sort((a, b) => a - b);

/**
 * Sums over the known part of a signal inside a window, in one pass.
 *
 * @param levels rising, in the signal's unit: those that hours and doses will be asked for
 */
export function sumsOver(signal: Signal, window: Interval, levels: readonly number[]): PieceSums {
  const sums = new PieceSums(levels);
  const { first, last, cut } = piecesWithin(signal, window);
  sums.addPieces(signal, first, last);
  for (const { t0, x0, t1, x1 } of cut) sums.addPiece(x0, x1, t1 - t0);
  return sums;
}
