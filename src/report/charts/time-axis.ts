import type { Interval } from '../../recording/interval.js';
import type { ZoneClock } from '../../recording/zone.js';

/** Ticks of a time axis in minutes after the start of the chart, with our own labels in local time. */
export interface TimeAxis {
  readonly endMinutes: number;
  readonly ticks: readonly number[];
  /** A Vega expression that gives the label of `datum.value`; holds nothing but digits that we made. */
  readonly labelExpression: string;
  /** Midnights inside the chart, minutes after its start. */
  readonly midnights: readonly number[];
}

const HOUR_MS = 3_600_000;
/** Steps between labelled hours, so that labels stay apart. */
const HOUR_STEPS = [1, 2, 3, 6, 12, 24, 48];
const MOST_TICKS = 13;

/** The axis of a window: labelled hours of the clock on the wall, whatever zone the machine is in. */
export function timeAxis(window: Interval, clock: ZoneClock): TimeAxis {
  const minutes = (at: number): number => Math.round((at - window.start) / 60_000);
  const hours = Math.max(1, (window.end - window.start) / HOUR_MS);
  const step = HOUR_STEPS.find((s) => hours / s <= MOST_TICKS) ?? 48;
  const ticks: number[] = [];
  const midnights: number[] = [];
  const labels: Record<number, string> = {};
  for (let at = window.start; at <= window.end; ) {
    const offset = clock.offsetMsAt(at);
    const local = at + offset;
    const hourOfDay = Math.floor(local / HOUR_MS) % 24;
    if (local % HOUR_MS === 0) {
      if (hourOfDay === 0) midnights.push(minutes(at));
      if (Math.floor(local / HOUR_MS) % step === 0) {
        ticks.push(minutes(at));
        labels[minutes(at)] = new Date(local).toISOString().slice(11, 16);
      }
    }
    at = (Math.floor(local / HOUR_MS) + 1) * HOUR_MS - offset;
  }
  return {
    // A patient with a single row has a period of no length; a scale needs some.
    endMinutes: Math.max(1, (window.end - window.start) / 60_000),
    ticks,
    labelExpression: `(${JSON.stringify(labels)})[datum.value]`,
    midnights,
  };
}
