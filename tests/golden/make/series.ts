/** Small invented exports for the golden cases: rows of pressures with what happens in them. */
import { gzipSync } from 'node:zlib';
import { streamFor } from '../../../fixtures/generator/random.js';
import { ZoneClock } from '../../../src/recording/zone.js';

export const MINUTE = 60_000;

/** Something that lifts or lowers a channel, from its start over its length, in mmHg at its middle. */
export interface Bump {
  /** Minutes from the first row. */
  readonly at: number;
  readonly minutes: number;
  readonly mmHg: number;
  /** Share of its length that each flank takes; 0: a step. */
  readonly flank?: number;
}

/** How a patient's export is made. */
export interface Series {
  readonly id: string;
  readonly zone: string;
  /** Of the first row, ISO 8601 with offset. */
  readonly start: string;
  readonly hours: number;
  readonly everySeconds: number;
  readonly icp: { readonly level: number; readonly bumps?: readonly Bump[] };
  /** Without it the export has no arterial pressure. */
  readonly map?: { readonly level: number; readonly bumps?: readonly Bump[] };
  /** A second source of ICP: this much beside the first, plus its bumps. */
  readonly drain?: { readonly beside: number; readonly bumps?: readonly Bump[] };
  /** Minutes in which a channel is blank. */
  readonly blank?: readonly {
    readonly of: 'icp' | 'map' | 'drain';
    readonly from: number;
    readonly to: number;
  }[];
  /** Minutes in which the drain is open: ICP through it is that of the drip chamber, and lies still. */
  readonly open?: readonly { readonly from: number; readonly to: number }[];
  /** Minutes in which the monitor shows nothing but 0. */
  readonly zeroed?: readonly { readonly from: number; readonly to: number }[];
}

/** What bumps add at a minute: up over the first flank, level, down over the last. */
function added(bumps: readonly Bump[] | undefined, minute: number): number {
  let sum = 0;
  for (const { at, minutes, mmHg, flank = 0.2 } of bumps ?? []) {
    const part = (minute - at) / minutes;
    if (part < 0 || part >= 1) continue;
    const edge = Math.min(part, 1 - part);
    sum += flank === 0 || edge >= flank ? mmHg : (mmHg * edge) / flank;
  }
  return sum;
}

const HEADERS = { icp: 'ICP (mmHg)', drain: 'EVD (mmHg)', map: 'ABP mean (mmHg)' } as const;

/** What an open drain reads. */
const CHAMBER_MMHG = 6;

/** The rows of an export as CSV, in local time. */
export function exportOf(series: Series): string {
  const { id, zone, start, hours, everySeconds, icp, map, drain } = series;
  const clock = new ZoneClock(zone);
  const [forIcp, forMap, forDrain] = [
    streamFor(id, 'icp'),
    streamFor(id, 'map'),
    streamFor(id, 'circulation'),
  ];
  const channels = (['icp', 'drain', 'map'] as const).filter(
    (one) => one === 'icp' || series[one] !== undefined,
  );
  const lines = [['Time', ...channels.map((one) => HEADERS[one])].join(',')];
  const rows = Math.round((hours * 3600) / everySeconds);
  let wander = 0;
  for (let i = 0; i <= rows; i++) {
    const minute = (i * everySeconds) / 60;
    wander = 0.95 * wander + 0.25 * forIcp.bell();
    const zeroed = series.zeroed?.some(({ from, to }) => minute >= from && minute < to) ?? false;
    const isOpen = series.open?.some(({ from, to }) => minute >= from && minute < to) ?? false;
    const now = icp.level + wander + added(icp.bumps, minute);
    const values = {
      icp: zeroed ? 0 : isOpen ? CHAMBER_MMHG + 0.05 * forIcp.bell() : now + 0.4 * forIcp.bell(),
      drain: now + (drain?.beside ?? 0) + added(drain?.bumps, minute) + 0.5 * forDrain.bell(),
      map: (map?.level ?? 0) + added(map?.bumps, minute) + 1.5 * forMap.bell(),
    };
    const cells = channels.map((one) => {
      const isBlank = series.blank?.some(({ of, from, to }) => of === one && minute >= from && minute < to);
      return isBlank ? '' : one === 'map' ? values[one].toFixed(0) : values[one].toFixed(1);
    });
    lines.push([localTime(clock, Date.parse(start) + i * everySeconds * 1000), ...cells].join(','));
  }
  return `${lines.join('\n')}\n`;
}

/** `2031-04-02 03:00:00` on the wall. */
export const localTime = (clock: ZoneClock, ms: number): string =>
  clock.format(ms).slice(0, 19).replace('T', ' ');

/** Gzip whose bytes hang on the content alone: no name, no time. */
export const packed = (text: string | Uint8Array): Uint8Array => {
  const bytes = gzipSync(text, { level: 9 });
  // The system that packed it stands in the tenth byte.
  bytes[9] = 255;
  return bytes;
};
