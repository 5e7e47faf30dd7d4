import type { JSX } from 'preact';
import { Table } from '../../../src/report/page/table.js';
import type { Verdict } from '../aggregate/targets.js';
import { figure, metOrNot, wanted } from '../verdict-words.js';

/** What was wanted, what came out, and whether that is enough. */
export const TargetsTable = ({ verdicts }: { verdicts: readonly Verdict[] }): JSX.Element => (
  <Table
    caption="Targets were set before any rule was tuned. Error of dose: dose above 22 mmHg a monitored hour, as the headline shows it, against the truth."
    columns={[
      { head: 'Measure' },
      { head: 'Sampling', number: true },
      { head: 'Target', number: true },
      { head: 'Measured', number: true },
      { head: 'Result' },
    ]}
    rows={verdicts.map((verdict) => ({
      key: `${verdict.says} ${verdict.samplingSeconds}`,
      kind: verdict.met === false ? 'cannot' : undefined,
      cells: [
        verdict.says,
        `${verdict.samplingSeconds} s`,
        wanted(verdict),
        figure(verdict.measured, verdict.unit),
        metOrNot(verdict),
      ],
    }))}
  />
);
