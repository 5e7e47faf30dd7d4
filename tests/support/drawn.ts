import { Difference } from '../../src/recording/difference.js';
import type { Interval } from '../../src/recording/interval.js';
import { signalOf } from '../../src/recording/sampling.js';
import { ZoneClock } from '../../src/recording/zone.js';
import type { Bedside } from '../../src/report/bedside.js';
import type { PressureInput } from '../../src/report/charts/pressure-panels.js';
import { ADULT } from './targets.js';

/** No log of anything. */
export const NO_BEDSIDE: Bedside = { alarms: null, entries: null, drainOpen: [] };

/** What a chart is drawn from: ICP and MAP of about a thousand samples over the window, and what the logs say of it. */
export function drawnOver(window: Interval, zone: string, more: Partial<PressureInput> = {}): PressureInput {
  const times = Float64Array.from(
    { length: 1001 },
    (_, i) => window.start + ((window.end - window.start) * i) / 1000,
  );
  const icp = signalOf(
    times,
    times.map((_, i) => 14 + 10 * Math.sin(i / 40)),
  );
  const map = signalOf(
    times,
    times.map((_, i) => 85 + 12 * Math.sin(i / 25)),
  );
  return {
    clock: new ZoneClock(zone),
    signals: { icp, map, cpp: new Difference(map, icp).where(map, icp) },
    rawIcp: icp,
    rawMap: map,
    marks: [],
    episodes: [],
    suspect: [],
    targets: ADULT,
    nights: [],
    bedside: NO_BEDSIDE,
    ...more,
  };
}

/** A log of everything, from a tenth of the window to its end. */
export function busyBedside({ start, end }: Interval): Bedside {
  const at = (share: number): number => start + (end - start) * share;
  return {
    alarms: [
      { start: at(0.1), end: at(0.2), acknowledged: at(0.15), text: 'ICP above 22 mmHg' },
      { start: at(0.5), end: null, acknowledged: null, text: 'CPP below 60 mmHg' },
    ],
    entries: [
      { start: at(0.12), end: null, isTreatment: true, text: 'hypertonic saline' },
      { start: at(0.4), end: at(0.5), isTreatment: true, text: 'head of bed up' },
      { start: at(0.7), end: null, isTreatment: false, text: 'turned' },
    ],
    drainOpen: [{ start: at(0.3), end: at(0.6), isClosed: true }],
  };
}
