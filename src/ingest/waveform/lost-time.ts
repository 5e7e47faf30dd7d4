import { SECOND_MS } from './second.js';

/** Rows of a waveform that were set aside for one reason. */
export interface LostRows {
  readonly rows: number;
  /** How much of the waveform they are, milliseconds. */
  readonly lengthMs: number;
  /** The line of the first of them; 0 where there are none. */
  readonly line: number;
}

/** What a waveform lost beside single rows. */
export interface Lost {
  /** How many rows of the waveform came in order or not. */
  readonly rows: number;
  readonly order: LostRows;
  readonly sparse: LostRows;
}

/** Adds up rows of one kind. */
export class LostTime implements LostRows {
  rows = 0;
  lengthMs = 0;
  line = 0;
  private last = Number.NaN;

  /** A row with its time; `usualMs` is how rows follow each other, and counts where it does not follow the last one here. */
  addRow(time: number, line: number, usualMs: number): void {
    const step = time - this.last;
    this.last = time;
    this.add(1, step > 0 && step <= SECOND_MS ? step : usualMs, line);
  }

  add(rows: number, lengthMs: number, line: number): void {
    if (this.rows === 0) this.line = line;
    this.rows += rows;
    this.lengthMs += lengthMs;
  }
}

/** More of a file than this is told of, */
const TOLD_SHARE = 0.01;
/** unless it is less than some seconds, as at the ends of a file that begins within a second; */
const LEAST_TOLD_MS = 5_000;
/** and this in any case. */
const TOLD_MS = 60_000;

const minutes = ({ lengthMs }: LostRows): string => `${Number((lengthMs / 60_000).toFixed(1))} min`;

/** What somebody should know of rows that were set aside by the minute, as sentences without the file. */
export function lostWords({ rows, order, sparse }: Lost): string[] {
  const isTold = (lost: LostRows): boolean =>
    lost.lengthMs > TOLD_MS || (lost.lengthMs >= LEAST_TOLD_MS && lost.rows > TOLD_SHARE * rows);
  return [
    ...(isTold(order)
      ? [
          `${minutes(order)} of the waveform, the first in line ${order.line}, are rows that are earlier than rows before them, as where a clock was set back; these ${order.rows} were set aside.`,
        ]
      : []),
    ...(isTold(sparse)
      ? [
          `${minutes(sparse)} of the waveform, the first in line ${sparse.line}, are seconds that hold less than half of their rows; these ${sparse.rows} rows were set aside.`,
        ]
      : []),
  ];
}
