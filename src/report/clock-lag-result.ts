import type { Recording } from '../recording/recording.js';
import { type ClockLag, PHYSIOLOGY_SECONDS } from '../summarize/lag/clock-lag.js';
import type { RecordingResult } from './results-schema.js';
import { seconds } from './words.js';

/** The lag of MAP behind ICP, as a page says it. */
function sentenceOf(
  { lagSeconds, correlation, isApart, reason }: ClockLag,
  moved: RecordingResult['clockLag']['shiftedSeconds'],
): string {
  if (lagSeconds === null || correlation === null) {
    return `Whether the clocks of ICP and MAP are apart cannot be told: ${reason}.`;
  }
  const r = `r = ${correlation.toFixed(2).replace('-', '\u2212')}`;
  if (!isApart) {
    return `ICP and MAP go together best within ${PHYSIOLOGY_SECONDS} s of each other (${r}), as they do on one clock.`;
  }
  const by = seconds(Math.abs(lagSeconds) * 1000);
  const still = moved.icp !== 0 || moved.map !== 0 ? 'still ' : '';
  const shift = moved.map - Math.round(lagSeconds);
  return `Slow fluctuations come ${by} ${lagSeconds > 0 ? 'later' : 'earlier'} in MAP than in ICP (${r}): the clocks of their devices may ${still}be apart, and CPP and PRx may be made of what was not measured at the same time. No times were moved for this; columns: {map: {shiftSeconds: ${shift}}} in the pipeline file would do it.`;
}

/** Whether clocks may be apart, in the form of results.json. */
export function clockLagResult(lag: ClockLag, { channels }: Recording): RecordingResult['clockLag'] {
  const { lagSeconds, correlation, isApart, reason } = lag;
  const shiftedSeconds = {
    icp: channels.icp?.shiftSeconds ?? 0,
    map: channels.map?.shiftSeconds ?? 0,
  };
  return {
    lagSeconds,
    ...(reason === null ? {} : { lagSecondsReason: reason }),
    correlation,
    isApart,
    shiftedSeconds,
    sentence: sentenceOf(lag, shiftedSeconds),
  };
}
