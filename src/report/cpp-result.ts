import { lengthMs } from '../recording/interval.js';
import type { Recording } from '../recording/recording.js';
import type { ZoneClock } from '../recording/zone.js';
import { type Figure, withReasons } from '../summarize/figure.js';
import type { LevelStep } from '../summarize/levelling.js';
import type { LimitsOfAgreement } from '../summarize/limits-of-agreement.js';
import type { LowCpp } from '../summarize/low-cpp.js';
import type { OfCpp } from '../summarize/of-cpp.js';
import type { OwnCpp } from '../summarize/own-cpp.js';
import type { ReportPeriod } from '../summarize/period.js';
import { clockLagResult } from './clock-lag-result.js';
import { ends } from './ends.js';
import { isWithoutLevel, ownCppSentence } from './own-cpp-words.js';
import type { RecordingResult } from './results-schema.js';
import { timesOf } from './words.js';

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

/** The export's own CPP in the form of results.json. */
function ownCppResult(
  own: OwnCpp | null,
  { recording, levelSteps, period }: CppInput,
  clock: ZoneClock,
): RecordingResult['ownCpp'] {
  if (own === null) return null;
  const { minutes, limits, reason } = own;
  const figure = (key: keyof LimitsOfAgreement): Figure => limits?.[key] ?? { reason: reason ?? '' };
  const levels = own.levels.map((level) => ({ ...level, ...ends(level, clock) }));
  return {
    header: recording.channels.cpp?.header ?? '',
    minutes,
    ...withReasons({
      meanDifferenceMmHg: figure('mean'),
      sdMmHg: figure('sd'),
      lowerLimitMmHg: figure('lower'),
      upperLimitMmHg: figure('upper'),
    }),
    levels,
    isWithoutLevel: isWithoutLevel(own, levelSteps),
    sentence: ownCppSentence(own, levels, levelSteps, timesOf(ends(period, clock))),
  };
}

/** What results of CPP are put into words with. */
interface CppInput {
  readonly recording: Recording;
  /** None where CPP is not levelled. */
  readonly levelSteps: readonly LevelStep[];
  readonly period: ReportPeriod;
}

/** What stands beside the figures of CPP, in the form of results.json. */
export const cppResult = (
  { lowCpp, ownCpp, clockLag }: OfCpp,
  input: CppInput,
  clock: ZoneClock,
): Pick<RecordingResult, 'lowCpp' | 'ownCpp' | 'clockLag'> => ({
  lowCpp: lowCppResult(lowCpp, input.period, clock),
  ownCpp: ownCppResult(ownCpp, input, clock),
  clockLag: clockLagResult(clockLag, input.recording),
});
