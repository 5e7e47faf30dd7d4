import type { JSX } from 'preact';
import type { Targets } from '../../summarize/targets.js';
import { Fold } from '../page/fold.js';
import type { PerfusionResult } from '../results-perfusion.js';
import type { RecordingResult } from '../results-schema.js';
import { duration } from '../words.js';
import { PerfusionWindowTable } from './window-table.js';

/** `ICP was above 22 mmHg and CPP below 60 mmHg at once for 25 min; ICP alone for 10 min, CPP alone for 1 h, neither for 9 h.` */
export function jointSentence({ joint }: PerfusionResult): string {
  const { bothHours, icpAloneHours, cppAloneHours, neitherHours, icpAboveMmHg, cppBelowMmHg } = joint;
  if (bothHours === null) return `ICP high and CPP low at once cannot be told: ${joint.bothHoursReason}.`;
  const rest = `ICP alone for ${duration(icpAloneHours)}, CPP alone for ${duration(cppAloneHours)}, neither for ${duration(neitherHours)}`;
  return bothHours === 0
    ? `ICP above ${icpAboveMmHg} mmHg and CPP below ${cppBelowMmHg} mmHg never came at once: ${rest}.`
    : `ICP was above ${icpAboveMmHg} mmHg and CPP below ${cppBelowMmHg} mmHg at once for ${duration(bothHours)}; ${rest}.`;
}

/** ICP high and CPP low at once and each alone, by hours; by days where the period is long, the hours folded below. */
export function JointSection(props: { result: RecordingResult; targets: Targets }): JSX.Element {
  const isByDay = props.result.days.length > 0;
  return (
    <section>
      <h2>ICP high and CPP low at the same time, {isByDay ? 'day by day' : 'hour by hour'}</h2>
      <p>{jointSentence(props.result.perfusion)}</p>
      <PerfusionWindowTable {...props} by={isByDay ? 'days' : 'hours'} />
      {isByDay && (
        <Fold title="Hour by hour, as a table">
          <PerfusionWindowTable {...props} by="hours" />
        </Fold>
      )}
    </section>
  );
}
