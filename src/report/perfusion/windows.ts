import type { PerfusionResult } from '../results-perfusion.js';
import type { RecordingResult } from '../results-schema.js';

/** What the table by hours or days tells of one of them. */
export interface PerfusionWindow {
  readonly start: string;
  readonly end: string;
  readonly cppKnownHours: number;
  readonly cppMeanMmHg: number | null;
  readonly cppLowest5MinMmHg: number | null;
  readonly bothHours: number | null;
  readonly icpAloneHours: number | null;
  readonly cppAloneHours: number | null;
  readonly neitherHours: number | null;
  readonly meanPrx: number | null;
  readonly prxMinutes: number;
}

type Joint = PerfusionResult['joint']['hours'][number];
type Index = PerfusionResult['prx']['hours'][number];

const JOINT = ['bothHours', 'icpAloneHours', 'cppAloneHours', 'neitherHours'] as const;

/** The hours that begin inside a window; a day is made of whole ones. */
const inside = <T extends { readonly start: string }>(
  hours: readonly T[],
  { start, end }: { readonly start: string; readonly end: string },
): T[] => {
  const [from, to] = [Date.parse(start), Date.parse(end)];
  return hours.filter((hour) => Date.parse(hour.start) >= from && Date.parse(hour.start) < to);
};

/** The sum of what is known; null where nothing is. */
const sum = (values: readonly (number | null)[]): number | null => {
  const known = values.filter((value) => value !== null);
  return known.length === 0 ? null : known.reduce((a, b) => a + b, 0);
};

/** Each hour weighs as much as it has minutes with a value. */
function meanOf(hours: readonly Index[]): number | null {
  const minutes = hours.reduce((n, hour) => n + (hour.mean === null ? 0 : hour.computableMinutes), 0);
  if (minutes === 0) return null;
  return (
    hours.reduce((total, { mean, computableMinutes }) => total + (mean ?? 0) * computableMinutes, 0) / minutes
  );
}

/** Hours or days of a recording with perfusion and PRx in each; those of PRx where it is the index that is told. */
export function perfusionWindows(
  windows: RecordingResult['hours'],
  { joint, prx }: Pick<PerfusionResult, 'joint' | 'prx'>,
): PerfusionWindow[] {
  return windows.map((window) => {
    const parts: readonly Joint[] = inside(joint.hours, window);
    const index = inside(prx.hours, window);
    const sums = Object.fromEntries(JOINT.map((key) => [key, sum(parts.map((part) => part[key]))])) as Record<
      (typeof JOINT)[number],
      number | null
    >;
    return {
      start: window.start,
      end: window.end,
      cppKnownHours: window.monitoredHours.cpp,
      cppMeanMmHg: window.cpp.meanMmHg,
      cppLowest5MinMmHg: window.cpp.lowest5MinMmHg,
      ...sums,
      meanPrx: meanOf(index),
      prxMinutes: index.reduce((n, { computableMinutes }) => n + computableMinutes, 0),
    };
  });
}
