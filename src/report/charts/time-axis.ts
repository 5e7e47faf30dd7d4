import type { Interval } from '../../recording/interval.js';
import type { ZoneClock } from '../../recording/zone.js';
import { axisSteps, type Instants, instantsOf } from './time-ticks.js';

/** A labelled tick: minutes after the start of the chart, and the lines of text under it. */
export interface TimeTick {
  readonly at: number;
  readonly lines: readonly string[];
}

/** Ticks of a time axis with our own labels in local time. */
export interface TimeAxis {
  readonly endMinutes: number;
  readonly ticks: readonly TimeTick[];
  /** Midnights inside the chart, minutes after its start. */
  readonly midnights: readonly number[];
  /** Whose clock it is, at the right end under the labels. */
  readonly zone: string;
  /** The line of text that the zone stands in, counted from 0. */
  readonly zoneLine: number;
  /** Space that ticks, labels and zone need under the plot, pixels. */
  readonly height: number;
}

/** Of the labels, pixels; wide enough also for DejaVu Sans, which stands in where Helvetica is missing. */
const LABEL_PIXELS = 54;
const LEAST_PIXELS = 46;
const CHARACTER_PIXELS = 7;
export const LABEL_TOP = 7;
export const LINE_PIXELS = 13;
/** How far the zone may reach to the right of the plot, pixels. */
export const ZONE_OVERHANG = 20;
const MINUTE_MS = 60_000;
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** Without what would stand too close to the one before; the start of a day stays. */
function thinned(instants: readonly number[], days: ReadonlySet<number>, leastMs: number): number[] {
  const kept: number[] = [];
  for (const at of instants) {
    while (days.has(at) && kept.length > 0 && !days.has(kept.at(-1)!) && at - kept.at(-1)! < leastMs)
      kept.pop();
    if (kept.length === 0 || at - kept.at(-1)! >= leastMs) kept.push(at);
  }
  return kept;
}

/** Where the clock changes, hours beside the change and hours that come twice say their offset. */
function offsetsOf(instants: readonly number[], clock: ZoneClock): (string | null)[] {
  const offset = (at: number | undefined): number | null => (at === undefined ? null : clock.offsetMsAt(at));
  return instants.map((at, i) => {
    const own = offset(at);
    const isBeside = [instants[i - 1], instants[i + 1]].some((other) => (offset(other) ?? own) !== own);
    const isTwice = clock.toUtc(clock.toLocal(at)).length > 1;
    return isBeside || isTwice ? clock.format(at).slice(19) : null;
  });
}

function dayName(at: number, clock: ZoneClock): string {
  const local = new Date(clock.toLocal(at));
  return `${local.getUTCDate()} ${MONTHS[local.getUTCMonth()]}`;
}

/** Labels of hours, with the day under the first and under each midnight. */
function hourTicks({ ticks, days }: Instants, clock: ZoneClock, leastMs: number): [number, string[]][] {
  const isDay = new Set(days);
  const kept = thinned(ticks, isDay, leastMs);
  const offsets = offsetsOf(kept, clock);
  return kept.map((at, i) => {
    const lines = [clock.format(at).slice(11, 16)];
    if (i === 0 || isDay.has(at)) lines.push(dayName(at, clock));
    const offset = offsets[i];
    if (offset !== null) lines.push(offset);
    return [at, lines];
  });
}

/**
 * The axis of a window: labels of the clock on the wall, whatever zone the machine is in.
 *
 * @param width of the plot in pixels
 */
export function timeAxis(window: Interval, clock: ZoneClock, width: number): TimeAxis {
  // A patient with a single row has a period of no length; a scale needs some, and a label needs a whole minute.
  const end = Math.max(window.end, window.start + MINUTE_MS);
  const msAPixel = (end - window.start) / width;
  const minutes = (at: number): number => Math.round(((at - window.start) / MINUTE_MS) * 1e4) / 1e4;
  const { stepMs, areDays } = axisSteps(end - window.start, msAPixel * LABEL_PIXELS);
  const instants = instantsOf({ start: window.start, end }, stepMs, clock);
  const ticks = areDays
    ? instants.ticks.map((at): [number, string[]] => [at, [dayName(at, clock)]])
    : hourTicks(instants, clock, msAPixel * LEAST_PIXELS);
  const zone = clock.zone === 'UTC' ? 'UTC' : `local time, ${clock.zone}`;
  const zoneFrom = width + ZONE_OVERHANG - zone.length * CHARACTER_PIXELS;
  const isTaken = (line: number): boolean =>
    ticks.some(
      ([at, { length }]) => length > line && (at - window.start) / msAPixel + LEAST_PIXELS / 2 > zoneFrom,
    );
  const zoneLine = [1, 2, 3].find((line) => !isTaken(line))!;
  const lines = Math.max(zoneLine + 1, ...ticks.map(([, { length }]) => length));
  return {
    endMinutes: (end - window.start) / MINUTE_MS,
    ticks: ticks.map(([at, lines]) => ({ at: minutes(at), lines })),
    midnights: instants.days.map(minutes),
    zone,
    zoneLine,
    height: LABEL_TOP + lines * LINE_PIXELS + 1,
  };
}
