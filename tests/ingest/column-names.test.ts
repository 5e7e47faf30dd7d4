import { describe, expect, test } from 'vitest';
import { recogniseColumns } from '../../src/ingest/recognise-columns.js';
import { problemOf, settingsWith } from './support.js';

const recognise = (...headers: string[]) => recogniseColumns(headers, settingsWith());

/** What a header is taken for, beside a time column. */
const kindOf = (header: string): string => {
  const { channels, leftAlone } = recognise('Time', header);
  return channels[0] ? `${channels[0].kind} ${channels[0].unit}` : `left alone: ${leftAlone[0].why}`;
};

// Names of the trade: common practice, no source.
describe('a header', () => {
  test.each([
    ['ICP (mmHg)', 'icp mm[Hg]'],
    ['icp [mm[Hg]]', 'icp mm[Hg]'],
    ['ICP (mm[Hg])', 'icp mm[Hg]'],
    ['ICP mm[Hg]', 'icp mm[Hg]'],
    ['ICP cm[H2O]', 'icp cm[H2O]'],
    ['ICP [cm[H2O]]', 'icp cm[H2O]'],
    ['ICP_mmHg', 'icp mm[Hg]'],
    ['ICP-mmHg', 'icp mm[Hg]'],
    ['ICP, mmHg', 'icp mm[Hg]'],
    ['ICP/mmHg', 'icp mm[Hg]'],
    ['ICP mm Hg', 'icp mm[Hg]'],
    ['ICP (mm Hg)', 'icp mm[Hg]'],
    ['ICP(MMHG)', 'icp mm[Hg]'],
    ['  ICP  ( mmHg )  ', 'icp mm[Hg]'],
    ['ICP\u00a0(mmHg)', 'icp mm[Hg]'],
    ['ICP\n(mmHg)', 'icp mm[Hg]'],
    ['ICP (cmH\u2082O)', 'icp cm[H2O]'],
    ['ICP [kPa]', 'icp kPa'],
    ['ICPm (mmHg)', 'icp mm[Hg]'],
    ['ICP mean (mmHg)', 'icp mm[Hg]'],
    ['ICP (mean) (mmHg)', 'icp mm[Hg]'],
    ['Mean ICP [mmHg]', 'icp mm[Hg]'],
    ['Intracranial pressure (mmHg)', 'icp mm[Hg]'],
    ['ABP mean (mmHg)', 'map mm[Hg]'],
    ['ABP (mean) [mmHg]', 'map mm[Hg]'],
    ['ABP_Mean_mmHg', 'map mm[Hg]'],
    ['ABP-M (mmHg)', 'map mm[Hg]'],
    ['ART M (kPa)', 'map kPa'],
    ['ARTm kPa', 'map kPa'],
    ['IBP mean (mmHg)', 'map mm[Hg]'],
    ['MAP cmH2O', 'map cm[H2O]'],
    ['MAP (mmHg)', 'map mm[Hg]'],
    ['Mean arterial pressure (mmHg)', 'map mm[Hg]'],
    ['ABP sys (mmHg)', 'sbp mm[Hg]'],
    ['ABP (systolic) (mmHg)', 'sbp mm[Hg]'],
    ['SBP (mmHg)', 'sbp mm[Hg]'],
    ['ART D (mmHg)', 'dbp mm[Hg]'],
    ['Diastolic ABP (mmHg)', 'dbp mm[Hg]'],
  ])('%j is taken for %s', (header, expected) => {
    expect(kindOf(header)).toBe(expected);
  });

  const cuff = 'left alone: cuff pressure is never used as MAP';
  test.each([
    ['NIBP mean (mmHg)', cuff],
    ['NIBP (mean) (mmHg)', cuff],
    ['NBP M (mmHg)', cuff],
    ['MAP (NIBP) (mmHg)', cuff],
    ['MAP (NIBP)', cuff],
    ['MAP cuff (mmHg)', cuff],
    ['Cuff MAP mmHg', cuff],
    ['CPP (mmHg)', 'left alone: CPP is computed from MAP and ICP'],
    ['CPP', 'left alone: CPP is computed from MAP and ICP'],
    ['ABP (mmHg)', 'left alone: it does not say mean, systolic or diastolic'],
    ['ART [kPa]', 'left alone: it does not say mean, systolic or diastolic'],
    ['ICP alarm', 'left alone: not used by this report'],
    ['ICP alarm limit (mmHg)', 'left alone: not used by this report'],
    ['ICP high limit mmHg', 'left alone: not used by this report'],
    ['PICP (mmHg)', 'left alone: not used by this report'],
    ['MAPSE (mm)', 'left alone: not used by this report'],
    ['Map of beds', 'left alone: not used by this report'],
    ['HR (1/min)', 'left alone: not used by this report'],
    ['SpO2 (%)', 'left alone: not used by this report'],
    ['CVP mean (mmHg)', 'left alone: not used by this report'],
    ['PAP mean (mmHg)', 'left alone: not used by this report'],
    ['constructor', 'left alone: not used by this report'],
    ['__proto__', 'left alone: not used by this report'],
  ])('%j is %s', (header, expected) => {
    expect(kindOf(header)).toBe(expected);
  });

  test.each([
    ...[
      'Time',
      'time',
      'TIME',
      'Timestamp',
      'Time stamp',
      'time_stamp',
      'DateTime',
      'Date/Time',
      'Date time',
    ],
    ...['Date-Time', 'Recorded at', 'Recording time', 'Time (UTC)', 'Time UTC', 'Timestamp [local]'],
  ])('%j is taken for the time', (header) => {
    expect(recognise('ICP (mmHg)', header).time).toBe(1);
  });

  test.each(['Date', 'Alarm time', 'Time to event', 'Times', 'Downtime', ''])(
    '%j is not taken for the time',
    async (header) => {
      expect(await problemOf(() => recognise(header, 'ICP (mmHg)'))).toBe(
        `there is no time column. A header such as "Time" is expected; the columns are "${header}", "ICP (mmHg)". Name it in the pipeline file as columns: {time: ...}.`,
      );
    },
  );
});

describe('the columns of a file', () => {
  test('are found in any order, and a column without a header is passed over', () => {
    const { time, channels, leftAlone } = recognise('MAP (mmHg)', '', 'HR', 'ICP (kPa)', 'Time');
    expect(time).toBe(4);
    expect(channels).toEqual([
      { index: 3, kind: 'icp', header: 'ICP (kPa)', unit: 'kPa' },
      { index: 0, kind: 'map', header: 'MAP (mmHg)', unit: 'mm[Hg]' },
    ]);
    expect(leftAlone).toEqual([{ header: 'HR', why: 'not used by this report' }]);
  });

  test('are refused where two could be ICP', async () => {
    expect(await problemOf(() => recognise('Time', 'ICP (mmHg)', 'ICP mean (mmHg)'))).toBe(
      '"ICP (mmHg)", "ICP mean (mmHg)" could each be ICP. Name the right one in the pipeline file under columns.',
    );
  });

  test('are refused where two could be MAP, though one is in another unit', async () => {
    expect(await problemOf(() => recognise('Time', 'ICP (mmHg)', 'MAP (mmHg)', 'ART M (kPa)'))).toBe(
      '"MAP (mmHg)", "ART M (kPa)" could each be MAP. Name the right one in the pipeline file under columns.',
    );
  });

  test('are refused where two could be the time', async () => {
    expect(await problemOf(() => recognise('Time', 'Recorded at', 'ICP (mmHg)'))).toBe(
      '"Time", "Recorded at" could each be the time. Name the right one in the pipeline file under columns.',
    );
  });

  test('are refused where two carry the same name, which no pipeline file can tell apart', async () => {
    expect(await problemOf(() => recognise('Time', 'ICP (mmHg)', 'ICP (mmHg)'))).toBe(
      'two columns are named "ICP (mmHg)". They cannot be told apart: rename or remove one in the file.',
    );
  });

  test('may carry the same name twice where it is not used', () => {
    expect(recognise('Time', 'ICP (mmHg)', 'Note', 'Note').leftAlone).toHaveLength(2);
  });

  test('are listed in a message up to twenty, however many there are', async () => {
    const headers = Array.from({ length: 50_000 }, (_, i) => `c${i}`);
    const message = await problemOf(() => recognise(...headers));
    expect(message).toContain('the columns are "c0", "c1", ');
    expect(message).toContain(', "c19" and 49980 more. Name it');
    expect(message.length).toBeLessThan(400);
  });

  test('are listed in one short line, whatever their names hold', async () => {
    const message = await problemOf(() => recognise('a\nb\r\u2028c\u0007', 'x'.repeat(100_000)));
    expect(message).toBe(
      `there is no time column. A header such as "Time" is expected; the columns are "a b c", "${'x'.repeat(40)}...". Name it in the pipeline file as columns: {time: ...}.`,
    );
  });

  test.each([
    ['blanks', `ICP${' '.repeat(500_000)}x`],
    ['points', `ICP${'.'.repeat(500_000)}x`],
    ['brackets', '(['.repeat(250_000)],
    ['pairs of brackets', '[a]'.repeat(200_000)],
    ['an open bracket', `ICP (${'a'.repeat(500_000)}`],
  ])('are recognised in bounded time where a header holds half a million %s', (_, header) => {
    const start = performance.now();
    recognise('Time', 'ICP (mmHg)', header);
    expect(performance.now() - start).toBeLessThan(2_000);
  });
});
