import { lengthMs } from '../recording/interval.js';
import type { ZoneClock } from '../recording/zone.js';
import { withReasons } from '../summarize/figure.js';
import type { LowCpp } from '../summarize/low-cpp.js';
import type { OfCpp } from '../summarize/of-cpp.js';
import type { ReportPeriod } from '../summarize/period.js';
import { ends } from './ends.js';
import type { RecordingResult } from './results-schema.js';

/** Low CPP in the form of results.json. */
const lowCppResult = (
  { targets, hours, doseMmHgHours, episodes, undetermined, episodesReason }: LowCpp,
  period: ReportPeriod,
  clock: ZoneClock,
): RecordingResult['lowCpp'] => ({
  targets: targets.map(({ start, end, belowMmHg, row }) => ({
    ...ends({ start: Math.max(start, period.start), end: Math.min(end, period.end) }, clock),
    belowMmHg,
    file: row?.file ?? null,
    line: row?.line ?? null,
  })),
  ...withReasons({ hours, doseMmHgHours }),
  episodes: episodes.map((episode) => ({
    ...episode,
    ...ends(episode, clock),
    minutes: lengthMs(episode) / 60_000,
  })),
  episodesReason,
  undeterminedEpisodes: undetermined,
});

/** What stands beside the figures of CPP, in the form of results.json. */
export const cppResult = (
  { lowCpp }: OfCpp,
  period: ReportPeriod,
  clock: ZoneClock,
): Pick<RecordingResult, 'lowCpp'> => ({ lowCpp: lowCppResult(lowCpp, period, clock) });
