import type { JSX } from 'preact';
import type { Targets } from '../../summarize/targets.js';
import { Table } from '../page/table.js';
import type { RecordingResult } from '../results-schema.js';
import { clockTime, dose, duration, NONE, pressure, share, signed } from '../words.js';

/** The period hour by hour; hours with ICP past its threshold stand out. */
export function HourTable({ result, targets }: { result: RecordingResult; targets: Targets }): JSX.Element {
  const { decimals, monitoredHours, agreement } = result;
  // Without CPP its columns would only repeat that.
  const cpp = <T,>(cells: T[]): T[] => (monitoredHours.cpp > 0 ? cells : []);
  const sources = <T,>(cells: T[]): T[] => (agreement ? cells : []);
  const differenceIn = (start: string): string => {
    const mmHg = agreement?.hours.find((hour) => hour.start === start)?.meanDifferenceMmHg ?? null;
    return mmHg === null ? NONE : signed(mmHg, agreement?.decimals ?? 0);
  };
  return (
    <section>
      <h2>Hour by hour</h2>
      <Table
        columns={[
          { head: 'Hour' },
          { head: 'ICP known', number: true },
          { head: 'Mean ICP, mmHg', number: true },
          { head: 'Highest 5-min mean ICP', number: true },
          { head: `ICP above ${targets.icpThresholdMmHg}`, number: true },
          { head: 'Dose, mmHg·h', number: true },
          ...cpp([
            { head: 'Mean CPP, mmHg', number: true },
            { head: 'Lowest 5-min mean CPP', number: true },
            { head: `CPP below ${targets.cppFloorMmHg}`, number: true },
          ]),
          ...sources([{ head: 'Probe minus drain, mmHg', number: true }]),
        ]}
        rows={result.hours.map((hour) => ({
          key: hour.start,
          kind: (hour.icp.hoursAboveThreshold ?? 0) > 0 ? ('past' as const) : undefined,
          cells: [
            `${clockTime(hour.start)} to ${clockTime(hour.end)}`,
            share(hour.monitoredHours.icp / ((Date.parse(hour.end) - Date.parse(hour.start)) / 3_600_000)),
            pressure(hour.icp.meanMmHg, decimals.icp),
            pressure(hour.icp.highest5MinMmHg, decimals.icp),
            duration(hour.icp.hoursAboveThreshold),
            dose(hour.icp.doseMmHgHours),
            ...cpp([
              pressure(hour.cpp.meanMmHg, decimals.cpp),
              pressure(hour.cpp.lowest5MinMmHg, decimals.cpp),
              duration(hour.cpp.hoursBelowFloor),
            ]),
            ...sources([differenceIn(hour.start)]),
          ],
        }))}
      />
    </section>
  );
}
