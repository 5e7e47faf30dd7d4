import type { ComponentChildren, JSX } from 'preact';
import type { Targets } from '../../summarize/targets.js';
import { dayName, hourName } from '../hour-name.js';
import { type Column, Table } from '../page/table.js';
import { index } from '../reactivity-words.js';
import type { RecordingResult } from '../results-schema.js';
import { duration, durationCell, isOverADay, NONE, pressure, share } from '../words.js';
import { bracketed } from './bracketed.js';
import { type PerfusionWindow, perfusionWindows } from './windows.js';

interface WindowTableProps {
  readonly result: RecordingResult;
  readonly targets: Targets;
  readonly by: 'hours' | 'days';
}

const strong = (hours: number | null): ComponentChildren =>
  (hours ?? 0) > 0 ? <strong>{duration(hours)}</strong> : durationCell(hours);

const lengthHours = ({ start, end }: PerfusionWindow): number =>
  (Date.parse(end) - Date.parse(start)) / 3_600_000;

/** A row an hour or a day: perfusion, ICP high and CPP low at once and each alone, and PRx. */
export function PerfusionWindowTable({ result, targets, by }: WindowTableProps): JSX.Element {
  const { decimals, perfusion } = result;
  const isLong = isOverADay(result.period);
  const hasPrx = perfusion.prx.mean !== null;
  const figure = bracketed(perfusion.prxDoubt !== null);
  const number = (head: string): Column => ({ head, number: true });
  const prx = <T,>(cells: T[]): T[] => (hasPrx ? cells : []);
  const rowOf = (window: PerfusionWindow) => ({
    key: window.start,
    cells: [
      by === 'days' ? dayName(window) : hourName(window, isLong),
      share(window.cppKnownHours / lengthHours(window)),
      pressure(window.cppMeanMmHg, decimals.cpp),
      pressure(window.cppLowest5MinMmHg, decimals.cpp),
      // What is not known at all is no time without.
      ...(window.cppKnownHours === 0
        ? [NONE, NONE, NONE, NONE]
        : [
            strong(window.bothHours),
            durationCell(window.icpAloneHours),
            durationCell(window.cppAloneHours),
            durationCell(window.neitherHours),
          ]),
      ...prx([figure(index(window.meanPrx)), durationCell(window.prxMinutes / 60)]),
    ],
  });
  const limits = `ICP above ${targets.icpThresholdMmHg} mmHg and CPP below ${targets.cppFloorMmHg} mmHg`;
  return (
    <Table
      kind="wraps"
      caption={`Both: ${limits} at once; bold where there was any. Alone: without the other.${hasPrx && perfusion.prxDoubt !== null ? ' PRx in brackets: it cannot be judged.' : ''}`}
      columns={[
        { head: by === 'days' ? 'Day' : 'Hour' },
        number('CPP known'),
        number('Mean CPP, mmHg'),
        number('Lowest 5\u2011min CPP'),
        number('Both'),
        number('ICP alone'),
        number('CPP alone'),
        number('Neither'),
        ...prx([number('Mean PRx'), number('PRx known')]),
      ]}
      rows={perfusionWindows(result[by], perfusion).map(rowOf)}
    />
  );
}
