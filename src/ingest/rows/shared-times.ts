import type { ZoneClock } from '../../recording/zone.js';
import { GrowingFloats } from './growing.js';
import { Instants } from './instants.js';

/**
 * The times of all series of an export with a row a value, as its rows follow each other. A channel that comes a few
 * times an hour may have one row in the hour that the clock shows twice; the rows of the others around it tell which
 * pass that was.
 */
export class SharedTimes {
  readonly times = new GrowingFloats();
  readonly instants: Instants;
  private switches = 0;
  private last: object | null = null;

  constructor(clock: ZoneClock) {
    this.instants = new Instants(clock, this.times);
  }

  /** Takes the next row's local time; gives its place. */
  add(localMs: number, series: object): number {
    if (series !== this.last) this.switches++;
    this.last = series;
    this.times.push(this.instants.next(localMs));
    return this.times.length - 1;
  }

  /** True where the rows of the series stand among each other, and not one series behind the other. */
  areMixed(seriesCount: number): boolean {
    return this.switches > 2 * seriesCount;
  }
}
