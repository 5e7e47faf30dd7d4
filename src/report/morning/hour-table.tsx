import type { JSX } from 'preact';
import type { Targets } from '../../summarize/targets.js';
import { dayName, hourName } from '../hour-name.js';
import type { RecordingResult } from '../results-schema.js';
import { isOverADay } from '../words.js';
import { WindowTable } from './window-table.js';

interface HourTableProps {
  readonly result: RecordingResult;
  readonly targets: Targets;
  /** Which hours; all of the period where left out. */
  readonly hours?: RecordingResult['hours'];
}

/** The period, or a part of it, hour by hour. */
export function HourTable({ result, targets, hours = result.hours }: HourTableProps): JSX.Element {
  const isLong = isOverADay(result.period);
  return (
    <WindowTable
      result={result}
      targets={targets}
      windows={hours}
      head="Hour"
      nameOf={(hour) => hourName(hour, isLong)}
    />
  );
}

/** A long period day by day. */
export function DayTable({ result, targets }: { result: RecordingResult; targets: Targets }): JSX.Element {
  return <WindowTable result={result} targets={targets} windows={result.days} head="Day" nameOf={dayName} />;
}
