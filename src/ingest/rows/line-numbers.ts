import { firstAfter } from '../../recording/search.js';
import { GrowingFloats } from './growing.js';

/** Line numbers of rows. Rows mostly stand line behind line, so only where that breaks is kept. */
export class LineNumbers {
  /** Rows that do not stand on the line behind the row before, and their lines. */
  private readonly rows = new GrowingFloats();
  private readonly lines = new GrowingFloats();
  private next = -1;
  length = 0;

  push(line: number): void {
    if (line !== this.next) {
      this.rows.push(this.length);
      this.lines.push(line);
    }
    this.next = line + 1;
    this.length++;
  }

  /** The line of a row, which counts from 0. */
  at(row: number): number {
    const run = firstAfter(this.rows.values(), row) - 1;
    return this.lines.at(run) + (row - this.rows.at(run));
  }
}
