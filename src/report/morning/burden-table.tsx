import type { JSX } from 'preact';
import type { Targets } from '../../summarize/targets.js';
import { type Row, Table } from '../page/table.js';
import type { RecordingResult } from '../results-schema.js';
import { dose, duration } from '../words.js';

/** The burden as exported, cleaned, and with suspect stretches taken the other way: what hangs on the cleaning. */
export function BurdenTable({ result, targets }: { result: RecordingResult; targets: Targets }): JSX.Element {
  const { icp, cpp, icpRaw, cppRaw, icpOtherWay, cppOtherWay, cleaning } = result;
  const hasCpp = result.monitoredHours.map > 0;
  const row = (name: string, ofIcp: typeof icp, ofCpp: typeof cpp, kind?: Row['kind']): Row => ({
    key: name,
    kind,
    cells: [
      name,
      duration(ofIcp.hoursAboveThreshold),
      dose(ofIcp.doseMmHgHours),
      ...(hasCpp ? [duration(ofCpp.hoursBelowFloor), dose(ofCpp.doseBelowFloorMmHgHours)] : []),
    ],
  });
  const raw = row('As exported', icpRaw, cppRaw);
  // What is known of a part of the time only must not look proven.
  const isDoubtful = result.cannotSay.length > 0;
  const headline = isDoubtful ? undefined : 'past';
  const cleaned = row('Cleaned', icp, cpp, headline);
  const isSame = raw.cells.slice(1).every((cell, i) => cell === cleaned.cells[i + 1]);
  return (
    <Table
      caption={
        isDoubtful
          ? `Over the ${duration(result.monitoredHours.icp)} that ICP is known for after cleaning; of the rest it says nothing.`
          : undefined
      }
      columns={[
        { head: 'Burden' },
        { head: `ICP above ${targets.icpThresholdMmHg}`, number: true },
        { head: 'ICP dose, mmHg·h', number: true },
        ...(hasCpp
          ? [
              { head: `CPP below ${targets.cppFloorMmHg}`, number: true },
              { head: 'CPP dose, mmHg·h', number: true },
            ]
          : []),
      ]}
      rows={[
        ...(cleaning.isOff
          ? [raw]
          : isSame
            ? [row('As exported and cleaned, the same', icp, cpp, headline)]
            : [raw, cleaned]),
        ...(icpOtherWay && cppOtherWay
          ? [row('Suspect stretches the other way', icpOtherWay, cppOtherWay)]
          : []),
      ]}
    />
  );
}
