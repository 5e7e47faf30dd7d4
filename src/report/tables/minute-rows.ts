import type { ZoneClock } from '../../recording/zone.js';
import { MINUTE_MS } from '../../summarize/perfusion/minute-course.js';
import type { PerfusionResult } from '../results-perfusion.js';

type Minutes = NonNullable<PerfusionResult['minutes']>;

/** A minute of which something is known; `end` is local time with offset. */
export type MinuteRow = { readonly end: string } & Readonly<
  Record<Exclude<keyof Minutes, 'firstEnd'>, number | null>
>;

/** The minutes of a recording of which anything is known, in order of time. */
export function minuteRows(
  { firstEnd, cppMmHg, prx, minuteIndex, optimalCppMmHg }: Minutes,
  clock: ZoneClock,
): MinuteRow[] {
  const first = Date.parse(firstEnd);
  return cppMmHg.flatMap((cpp, i): MinuteRow[] => {
    const values = {
      cppMmHg: cpp,
      prx: prx[i] ?? null,
      minuteIndex: minuteIndex[i] ?? null,
      optimalCppMmHg: optimalCppMmHg[i] ?? null,
    };
    return Object.values(values).every((value) => value === null)
      ? []
      : [{ end: clock.format(first + i * MINUTE_MS), ...values }];
  });
}
