import type { Recording } from '../recording/recording.js';
import { type ClockLag, PHYSIOLOGY_SECONDS } from '../summarize/lag/clock-lag.js';
import type { RecordingResult } from './results-schema.js';
import { seconds } from './words.js';

/** The lag of MAP behind ICP, as a page says it. */
function sentenceOf(
  { lagSeconds, correlation, isApart, reason }: ClockLag,
  moved: RecordingResult['clockLag']['shiftedSeconds'],
  patient: string,
): string {
  if (lagSeconds === null || correlation === null) {
    return `Whether the clocks of ICP and MAP are apart cannot be told: ${reason}.`;
  }
  const r = `r = ${correlation.toFixed(2).replace('-', '\u2212')}`;
  if (!isApart) {
    return `ICP and MAP go together best within ${PHYSIOLOGY_SECONDS} s of each other (${r}), as they do on one clock.`;
  }
  const by = seconds(Math.abs(lagSeconds) * 1000);
  const set = (['icp', 'map'] as const).filter((kind) => moved[kind] !== 0);
  const each = set.map((kind) => `${Math.abs(moved[kind])} s`).join(' and ');
  const beyond = set.length === 0 ? '' : ` beyond the ${each} already set`;
  // JSON writes the id as YAML reads it back.
  const shift = `columns: {map: {shiftSeconds: {${JSON.stringify(patient)}: ${moved.map - Math.round(lagSeconds)}}}}`;
  const others = moved.map === 0 ? '' : '; shifts of other patients stand beside it';
  return `Slow fluctuations come ${by} ${lagSeconds > 0 ? 'later' : 'earlier'} in MAP than in ICP (${r}): the clocks of their devices may be apart${beyond}, and CPP and PRx may be made of what was not measured at the same time. No times were moved for this; ${shift} in the pipeline file would do it for this patient${others}.`;
}

/** Whether clocks may be apart, in the form of results.json. */
export function clockLagResult(lag: ClockLag, { id, channels }: Recording): RecordingResult['clockLag'] {
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
    sentence: sentenceOf(lag, shiftedSeconds, id),
  };
}
