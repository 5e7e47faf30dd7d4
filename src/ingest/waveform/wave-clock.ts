import type { ZoneClock } from '../../recording/zone.js';
import { secondOf } from './second.js';

/**
 * Turns local times of rows that rise into instants without keeping the rows. In the hour that the clock shows twice in
 * autumn a row is taken for the first pass while that is later than the row before, and for the second one else.
 */
export class WaveClock {
  /** The first instant in such an hour whose pass nothing tells; NaN where there is none. */
  doubtful = Number.NaN;
  private second = Number.NaN;
  private offsetMs = 0;

  constructor(private readonly clock: ZoneClock) {}

  /**
   * The instant of the next row's local time; NaN in an hour that the clocks went forward over.
   *
   * @param last the instant of the row before; minus infinity where there is none
   */
  next(localMs: number, last: number): number {
    const second = secondOf(localMs);
    // Far from a change of the clock a second has one offset; near one the row before decides.
    if (second === this.second) return localMs - this.offsetMs;
    const plain = this.clock.toUtcPlain(localMs);
    const utc = Number.isNaN(plain) ? this.nearChange(localMs, last) : plain;
    if (!Number.isNaN(utc)) {
      this.second = second;
      this.offsetMs = localMs - utc;
    }
    return utc;
  }

  private nearChange(localMs: number, last: number): number {
    const [first = Number.NaN, other] = this.clock.toUtc(localMs);
    if (other === undefined) return first;
    if (last === Number.NEGATIVE_INFINITY && Number.isNaN(this.doubtful)) this.doubtful = first;
    return first > last ? first : other > last ? other : first;
  }
}
