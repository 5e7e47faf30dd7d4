import { describe, expect, it } from 'vitest';
import { loggedAlarms, type NamedAlarmRow } from '../../../src/ingest/tables/logged-alarms.js';

/** A row of an alarm log; times in minutes. */
const row = (
  file: string,
  onset: number,
  acknowledged: number | null = null,
  ended: number | null = null,
  more: Partial<NamedAlarmRow> = {},
): NamedAlarmRow => ({
  ...{
    file,
    line: 2,
    patient: '7',
    bed: null,
    ward: null,
    priority: null,
    message: null,
    limit: null,
    side: 'upper',
  },
  parameter: { text: 'ICP', channel: 'icp', side: null },
  onsetUtcMs: onset * 60_000,
  acknowledgedUtcMs: acknowledged === null ? null : acknowledged * 60_000,
  endedUtcMs: ended === null ? null : ended * 60_000,
  ...more,
});
const timesOf = (...rows: readonly NamedAlarmRow[]): (readonly (number | null)[])[] =>
  (loggedAlarms(rows).get('7') ?? []).map(({ start, acknowledged, end }) =>
    [start, acknowledged, end].map((time) => time && time / 60_000),
  );

describe('the alarms of a patient', () => {
  it('are one where one export was written before the alarm was acknowledged and over, and the next after it', () => {
    expect(timesOf(row('a.csv', 1), row('b.csv', 1, 3, 5))).toEqual([[1, 3, 5]]);
    expect(timesOf(row('b.csv', 1, 3, 5), row('c.csv', 1))).toEqual([[1, 3, 5]]);
    expect(timesOf(row('a.csv', 1), row('b.csv', 1, 3), row('c.csv', 1, 3, 5))).toEqual([[1, 3, 5]]);
  });

  it('stay apart where one file holds both, or their times or words differ', () => {
    expect(timesOf(row('a.csv', 1), row('a.csv', 1, 3, 5))).toHaveLength(2);
    expect(timesOf(row('a.csv', 1, 2), row('b.csv', 1, 3, 5))).toHaveLength(2);
    expect(timesOf(row('a.csv', 1), row('b.csv', 2, 3, 5))).toHaveLength(2);
    expect(timesOf(row('a.csv', 1), row('b.csv', 1, 3, 5, { side: 'lower' }))).toHaveLength(2);
    expect(timesOf(row('a.csv', 1), row('b.csv', 1, 3, 5, { patient: '8' }))).toEqual([[1, null, null]]);
  });

  it('stand by their starts', () => {
    expect(timesOf(row('a.csv', 9), row('a.csv', 4), row('b.csv', 6))).toEqual([
      [4, null, null],
      [6, null, null],
      [9, null, null],
    ]);
  });
});
