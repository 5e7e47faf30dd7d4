import type { Interval } from '../recording/interval.js';
import type { ZoneClock } from '../recording/zone.js';
import { type ReportPeriod, resolvePeriod } from '../summarize/period.js';
import type { KeptPart } from './report-group.js';
import type { Settings } from './settings.js';

/** The whole of the data: from the first row of any patient to the last. */
function extentOf(parts: readonly KeptPart[]): Interval | null {
  const extents = parts.flatMap(({ extent }) => (extent ? [extent] : []));
  if (extents.length === 0) return null;
  return {
    start: Math.min(...extents.map(({ start }) => start)),
    end: Math.max(...extents.map(({ end }) => end)),
  };
}

/** The unit's period; where nobody has data, the one that the pipeline file names, or none that matters. */
export function unitPeriod(parts: readonly KeptPart[], settings: Settings, clock: ZoneClock): ReportPeriod {
  const extent = extentOf(parts) ?? { start: 0, end: 0 };
  return resolvePeriod(settings.period, extent, settings.summarize.night, clock);
}

/** True for a patient who was reported over another night than the unit's. */
export const isAstray = ({ report, audit, study, period: own }: KeptPart, period: ReportPeriod): boolean =>
  (report ?? audit ?? study) !== null &&
  !(own !== null && own.start === period.start && own.end === period.end);
