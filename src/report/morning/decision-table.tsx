import type { JSX } from 'preact';
import { CHANNEL_NAMES } from '../../recording/channel.js';
import type { Targets } from '../../summarize/targets.js';
import { Table } from '../page/table.js';
import type { RecordingResult } from '../results-schema.js';
import { ruleTitle } from '../rule-title.js';
import { dayAndSeconds, dose, listed, seconds } from '../words.js';
import { decisionText } from './decision-lines.js';

/** `would be 2.8 mmHg·h, and is 0.2`. */
function wouldBe(other: number, now: number | null, unit = ''): string {
  if (now === null) return `would be ${dose(other)}${unit}`;
  if (dose(other) === dose(now)) return `would be the same, ${dose(now)}${unit}`;
  return `would be ${dose(other)}${unit}, and is ${dose(now)}`;
}

/** What a person decided, with the name, and how the figures would read if only the rules had a say. */
export function DecisionTable({
  result,
  targets,
}: {
  result: RecordingResult;
  targets: Targets;
}): JSX.Element | null {
  const { decisions, cleaning, icp, cpp } = result;
  const { withoutDecisions } = cleaning;
  if (decisions.length === 0 || withoutDecisions === null) return null;
  const { icpDoseMmHgHours, cppDoseBelowFloorMmHgHours } = withoutDecisions;
  const ofCpp =
    cpp.doseBelowFloorMmHgHours === null
      ? ''
      : `; the CPP dose below ${targets.cppFloorMmHg} mmHg ${wouldBe(cppDoseBelowFloorMmHgHours, cpp.doseBelowFloorMmHgHours)}`;
  return (
    <Table
      caption={`What a person decided; no rule has a say there. By the rules alone the dose above ${targets.icpThresholdMmHg} mmHg ${wouldBe(icpDoseMmHgHours, icp.doseMmHgHours, ' mmHg·h')}${ofCpp}.`}
      columns={[
        { head: 'Start' },
        { head: 'Length', number: true },
        { head: 'Channel' },
        { head: 'Decision' },
        { head: 'By' },
        { head: 'Rules had marked' },
      ]}
      rows={decisions.map((decision) => {
        const { start, end, channel, reviewer, rules } = decision;
        return {
          key: `${start} ${end} ${channel} ${reviewer}`,
          cells: [
            dayAndSeconds(start),
            seconds(Date.parse(end) - Date.parse(start)),
            CHANNEL_NAMES[channel],
            decisionText(decision),
            reviewer,
            rules.length === 0 ? 'nothing' : listed(rules.map(ruleTitle)),
          ],
        };
      })}
    />
  );
}
