import type { RunEvent } from '../pipeline/run-event.js';

/** Before so much is read, nobody can say how long the rest takes. */
const LEAST_MS = 1000;

const timeLeft = (seconds: number): string =>
  seconds < 90
    ? `about ${Math.max(5, 5 * Math.round(seconds / 5))} s left`
    : `about ${Math.round(seconds / 60)} min left`;

/** How fast a run is, and how long it may still take. What came out of the store costs nearly nothing and is left out. */
export class Pace {
  private startedAt = 0;
  private bytesLeft = 0;
  private bytesRead = 0;
  private rowsRead = 0;
  private elapsedMs = 0;

  constructor(private readonly now: () => number = () => performance.now()) {}

  take(event: RunEvent): void {
    if (event.event === 'start') {
      this.startedAt = this.now();
      this.bytesLeft = event.bytes;
      this.bytesRead = 0;
      this.rowsRead = 0;
    } else if ('patient' in event) {
      this.bytesLeft -= event.bytes;
      this.elapsedMs = this.now() - this.startedAt;
      if (event.event === 'reused') return;
      this.bytesRead += event.bytes;
      this.rowsRead += event.rows;
    }
  }

  /** `, 215000 rows a second, about 20 s left`; as much of it as can be told. */
  words(): string {
    if (this.elapsedMs < LEAST_MS || this.bytesRead === 0) return '';
    const rate = Math.round(this.rowsRead / (this.elapsedMs / 1000));
    const rest = (this.bytesLeft / this.bytesRead) * (this.elapsedMs / 1000);
    return `, ${rate} rows a second${this.bytesLeft > 0 ? `, ${timeLeft(rest)}` : ''}`;
  }
}
