/** A jump ahead that is longer than this has to be confirmed; holes of a waveform may be longer, and are. */
export const LONGEST_JUMP_MS = 10_000;

/**
 * A row that stands far behind the row before it in time, until the next row tells whether the clock moved or only this
 * row's time stamp is wrong: one wrong stamp would put all rows behind it out of order.
 */
export class HeldRow {
  time = Number.NaN;
  line = 0;
  /** True while a row waits. */
  isHeld = false;
  readonly values: Float64Array;

  constructor(channels: number) {
    this.values = new Float64Array(channels);
  }

  /** Keeps a row; its values may be written over afterwards. */
  hold(time: number, line: number, values: Float64Array): void {
    this.time = time;
    this.line = line;
    this.isHeld = true;
    for (let c = 0; c < this.values.length; c++) this.values[c] = values[c];
  }

  /** True where the next row stands near the one that is held, and did not stay near the last one before both. */
  isConfirmedBy(next: number, last: number): boolean {
    return Math.abs(next - this.time) <= LONGEST_JUMP_MS && (next >= this.time || isJump(last, next));
  }
}

/** True where a row's time is so far ahead of the one before that it has to be confirmed; minus infinity where there is none. */
export const isJump = (last: number, time: number): boolean => time - last > LONGEST_JUMP_MS;
