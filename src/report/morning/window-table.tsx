import type { ComponentChildren, JSX } from 'preact';
import type { Targets } from '../../summarize/targets.js';
import { type Column, type Row, Table } from '../page/table.js';
import type { RecordingResult, WindowResult } from '../results-schema.js';
import { doseCell, durationCell, NONE, pressure, share, signed } from '../words.js';

interface WindowTableProps {
  readonly result: RecordingResult;
  readonly targets: Targets;
  readonly windows: readonly WindowResult[];
  /** What the first column is called, and each row in it. */
  readonly head: string;
  readonly nameOf: (window: WindowResult) => string;
}

/** ICP above its threshold, or CPP below its floor, for any time. */
const isPast = ({ icp, cpp }: WindowResult): boolean =>
  (icp.hoursAboveThreshold ?? 0) > 0 || (cpp.hoursBelowFloor ?? 0) > 0;

/** Bold where it is past its limit. */
const strong = (text: string, hours: number | null): ComponentChildren =>
  (hours ?? 0) > 0 ? <strong>{text}</strong> : text;

/** A row an hour or a day; times of ICP or CPP past its limit stand out. */
export function WindowTable(props: WindowTableProps): JSX.Element {
  const { result, targets, windows, head, nameOf } = props;
  const { decimals, monitoredHours, agreement } = result;
  // Without CPP its columns would only repeat that.
  const cpp = <T,>(cells: T[]): T[] => (monitoredHours.cpp > 0 ? cells : []);
  const hoursApart = agreement?.hours ?? [];
  const isByHour = windows.some(({ start }) => hoursApart.some((hour) => hour.start === start));
  const sources = <T,>(cells: T[]): T[] => (isByHour ? cells : []);
  const differenceIn = (start: string): string => {
    const mmHg = hoursApart.find((hour) => hour.start === start)?.meanDifferenceMmHg ?? null;
    return mmHg === null ? NONE : signed(mmHg, agreement?.decimals ?? 0);
  };
  const number = (name: string): Column => ({ head: name, number: true });
  const columns = [
    { head },
    number('ICP known'),
    number('Mean ICP, mmHg'),
    number('Highest 5-min mean ICP'),
    number(`ICP above ${targets.icpThresholdMmHg}`),
    number('Dose, mmHg·h'),
    ...cpp([
      number('Mean CPP, mmHg'),
      number('Lowest 5-min mean CPP'),
      number(`CPP below ${targets.cppFloorMmHg}`),
    ]),
    ...sources([number('Probe minus drain, mmHg')]),
  ];
  const lengthHours = ({ start, end }: WindowResult): number =>
    (Date.parse(end) - Date.parse(start)) / 3_600_000;
  const rowOf = (window: WindowResult): Row => ({
    key: window.start,
    cells: [
      nameOf(window),
      share(window.monitoredHours.icp / lengthHours(window)),
      pressure(window.icp.meanMmHg, decimals.icp),
      pressure(window.icp.highest5MinMmHg, decimals.icp),
      strong(durationCell(window.icp.hoursAboveThreshold), window.icp.hoursAboveThreshold),
      strong(doseCell(window.icp.doseMmHgHours), window.icp.hoursAboveThreshold),
      ...cpp([
        pressure(window.cpp.meanMmHg, decimals.cpp),
        pressure(window.cpp.lowest5MinMmHg, decimals.cpp),
        strong(durationCell(window.cpp.hoursBelowFloor), window.cpp.hoursBelowFloor),
      ]),
      ...sources([differenceIn(window.start)]),
    ],
  });
  const limits = monitoredHours.cpp > 0 ? ` or CPP below ${targets.cppFloorMmHg} mmHg` : ' mmHg';
  const caption = windows.some(isPast)
    ? `Bold: time with ICP above ${targets.icpThresholdMmHg}${limits}.`
    : undefined;
  return <Table caption={caption} columns={columns} rows={windows.map(rowOf)} />;
}
