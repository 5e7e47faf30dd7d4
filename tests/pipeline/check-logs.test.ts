import { describe, expect, it } from 'vitest';
import { checkedLogs } from '../../src/pipeline/check-logs.js';
import type { LogAccount } from '../../src/pipeline/log-file.js';
import type { Logs } from '../../src/pipeline/read-logs.js';
import type { KeptPart } from '../../src/pipeline/report-group.js';

/** What is told of a table that names patients, where others have exports. */
function told(named: readonly string[], exported: readonly string[]): readonly string[] {
  const account: LogAccount = {
    file: 'cohort.csv',
    kind: 'cohort',
    bytes: 1,
    sha256: '',
    rowsRead: named.length,
    rowsUndecided: 0,
    setAside: [],
    warnings: [],
    patients: new Map(named.map((id) => [id, 1])),
  };
  const logs = { decisions: new Map(), targets: new Map(), accounts: [account] } as unknown as Logs;
  const parts = exported.map((id) => ({ id }) as KeptPart);
  return checkedLogs(logs, parts)[0].warnings;
}

describe('patients of a table of whom there is no export', () => {
  it('are told of with the export that is written almost like them', () => {
    expect(told(['7', 'Heron 1', 'he\u0301ron', 'ibis'], ['007', 'heron-1', 'h\u00e9ron'])).toEqual([
      'It names 4 patients of whom there is no export: "7" (1 row; is it "007" with its zeros lost?), "Heron 1" (1 row; is it "heron-1" in another spelling?), "he\u0301ron" (1 row; is it "h\u00e9ron", which looks the same and is written with other characters?) and "ibis" (1 row).',
    ]);
  });

  it('are not, where all have one', () => {
    expect(told(['a', 'b'], ['b', 'a', 'c'])).toEqual([]);
  });
});
