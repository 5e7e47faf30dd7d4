import { describe, expect, test } from 'vitest';
import { recogniseColumns } from '../../src/ingest/columns/recognise-columns.js';
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
    ['PIC (mmHg)', 'icp mm[Hg]'],
    ['PAM (mmHg)', 'map mm[Hg]'],
    ['EVD (cmH2O)', 'icpDrain cm[H2O]'],
    ['ICP drain (mmHg)', 'icpDrain mm[Hg]'],
    ['CPP (mmHg)', 'cpp mm[Hg]'],
    ['HR (1/min)', 'hr /min'],
    ['HR/min', 'hr /min'],
    ['Heart rate [bpm]', 'hr /min'],
    ['HR', 'hr /min'],
    ['SpO2 (%)', 'spo2 %'],
    ['SpO2', 'spo2 %'],
    ['RR (rpm)', 'rr /min'],
    ['EtCO2 (kPa)', 'etco2 kPa'],
    ['Temp \u00b0C', 'temp Cel'],
    ['Brain temp (\u00b0F)', 'temp [degF]'],
    ['PbtO2 (mmHg)', 'pbto2 mm[Hg]'],
  ])('%j is taken for %s', (header, expected) => {
    expect(kindOf(header)).toBe(expected);
  });

  const cuff = 'left alone: cuff pressure is never used as MAP';
  const alarm = 'left alone: an alarm, a limit or a state, no measured value';
  test.each([
    ['NIBP mean (mmHg)', cuff],
    ['NIBP (mean) (mmHg)', cuff],
    ['NBP M (mmHg)', cuff],
    ['MAP (NIBP) (mmHg)', cuff],
    ['MAP (NIBP)', cuff],
    ['MAP cuff (mmHg)', cuff],
    ['Cuff MAP mmHg', cuff],
    ['ABP (mmHg)', 'left alone: it does not say mean, systolic or diastolic'],
    ['ART [kPa]', 'left alone: it does not say mean, systolic or diastolic'],
    ['ICP alarm', alarm],
    ['ICP alarm limit (mmHg)', alarm],
    ['ICP high limit mmHg', alarm],
    ['PICP (mmHg)', 'left alone: none of the names known here'],
    ['MAPSE (mm)', 'left alone: none of the names known here'],
    ['Map of beds', 'left alone: none of the names known here'],
    ['MAP target (mmHg)', alarm],
    ['SpO2 status', alarm],
    ['CPP', 'left alone: CPP, but its unit is not given'],
    ['SBP', 'left alone: systolic ABP, but its unit is not given'],
    ['Temp', 'left alone: temperature, but its unit is not given'],
    ['HR (Hz)', 'left alone: heart rate, but the unit "Hz" is not known'],
    ['EtCO2 (%)', 'left alone: end-tidal CO2, but "%" is no unit of end-tidal CO2'],
    ['Bed', 'left alone: names the patient or the bed'],
    ['Patient ID', 'left alone: names the patient or the bed'],
    ['CVP mean (mmHg)', 'left alone: none of the names known here'],
    ['PAP mean (mmHg)', 'left alone: none of the names known here'],
    ['constructor', 'left alone: none of the names known here'],
    ['__proto__', 'left alone: none of the names known here'],
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
    expect(recognise('ICP (mmHg)', header).time).toMatchObject({ index: 1, date: null });
  });

  test('for the date alone is taken for the time, and beside one for the day of it', () => {
    expect(recognise('Date', 'ICP (mmHg)').time).toMatchObject({ index: 0, date: null });
    expect(recognise('ICP (mmHg)', 'Date', 'Time').time).toMatchObject({ index: 2, date: 1 });
  });

  test.each([
    ['Elapsed (s)', 1000],
    ['elapsed_ms', 1],
    ['Elapsed time [min]', 60_000],
    ['Time (h)', 3_600_000],
    ['Seconds', 1000],
    ['Time (s)', 1000],
    ['Time [s]', 1000],
    ['time_ms', 1],
    ['Time since start (s)', 1000],
  ])('%j is taken for a time that counts in %i ms', (header, unitMs) => {
    expect(recognise('ICP (mmHg)', header).time).toMatchObject({ index: 1, unitMs });
  });

  test.each([
    ['Time (dd/mm/yyyy hh:mm)', 'dayFirst'],
    ['Date [dd.mm.yyyy]', 'dayFirst'],
    ['Date (mm/dd/yyyy)', 'monthFirst'],
    ['Date (yyyy-mm-dd)', null],
  ])('%j says of day and month: %s', (header, order) => {
    expect(recognise('ICP (mmHg)', header).time.order).toBe(order);
  });

  test.each(['Alarm time', 'Time to event', 'Times', 'Downtime', ''])(
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
    expect(recognise('MAP (mmHg)', '', 'CVP', 'ICP bolt (kPa)', 'Time')).toEqual({
      time: { index: 4, date: null, offsetMs: null, unitMs: null, order: null },
      patient: null,
      channels: [
        {
          index: 3,
          kind: 'icp',
          header: 'ICP bolt (kPa)',
          unit: 'kPa',
          conversion: { factor: 1000 / 133.3224, offset: 0, decimalsLost: 1 },
          source: 'probe',
          why: 'by its name, unit from its name',
        },
        {
          index: 0,
          kind: 'map',
          header: 'MAP (mmHg)',
          unit: 'mm[Hg]',
          conversion: { factor: 1, offset: 0, decimalsLost: 0 },
          source: null,
          why: 'by its name, unit from its name',
        },
      ],
      long: null,
      identities: [],
      leftAlone: [{ header: 'CVP', why: 'none of the names known here' }],
      warnings: [],
    });
  });

  test('are read only as far as the report uses them', () => {
    const settings = settingsWith({ channels: ['icp', 'map'] });
    const headers = ['Time', 'ICP (mmHg)', 'MAP (mmHg)', 'HR', 'CPP (mmHg)', 'EVD (mmHg)', 'SpO2 (Torr)'];
    const { channels, leftAlone } = recogniseColumns(headers, settings);
    expect(channels.map(({ kind }) => kind)).toEqual(['icp', 'icpDrain', 'map']);
    expect(leftAlone).toEqual([
      { header: 'HR', why: 'heart rate: not used by this report' },
      { header: 'CPP (mmHg)', why: 'CPP is computed from MAP and ICP' },
      { header: 'SpO2 (Torr)', why: 'SpO2: not used by this report' },
    ]);
  });

  test('are left alone where two could be a channel that no figure rests on', () => {
    const { channels, leftAlone } = recognise('Time', 'ICP (mmHg)', 'HR', 'Pulse');
    expect(channels.map(({ kind }) => kind)).toEqual(['icp']);
    expect(leftAlone).toEqual([
      { header: 'HR', why: 'one of 2 that could be heart rate' },
      { header: 'Pulse', why: 'one of 2 that could be heart rate' },
    ]);
  });

  test('tell a drain from a probe', () => {
    const { channels } = recognise('Time', 'ICP (mmHg)', 'EVD (mmHg)');
    expect(channels).toMatchObject([
      { kind: 'icp', source: null },
      { kind: 'icpDrain', source: 'drain' },
    ]);
  });

  test('are those of a row a value where parameter and value stand beside the time', () => {
    expect(recognise('Time', 'Parameter', 'Value', 'Unit', 'Note')).toMatchObject({
      channels: [],
      long: { parameter: 1, value: 2, unit: 3, qualifier: null },
      leftAlone: [{ header: 'Note', why: 'none of the names known here' }],
    });
    expect(recognise('Time', 'Signal', 'Reading').long).toEqual({
      parameter: 1,
      value: 2,
      unit: null,
      qualifier: null,
    });
    expect(recognise('Time', 'Value', 'ICP (mmHg)').long).toBeNull();
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
