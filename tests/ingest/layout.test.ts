import { describe, expect, test } from 'vitest';
import { headerScorer } from '../../src/ingest/columns/header-score.js';
import { findLayout } from '../../src/ingest/text/layout.js';
import { settingsWith } from './support.js';

const layoutOf = (head: string, more = {}) => findLayout(head, headerScorer(settingsWith(more)));

describe('the header of a file', () => {
  test.each([
    [',', 'Time,ICP (mmHg)\n2031-02-11 02:10:00,12\n'],
    [';', 'Time;ICP (mmHg)\n2031-02-11 02:10:00;12,5\n'],
    ['\t', 'Time\tICP (mmHg)\n2031-02-11 02:10:00\t12,5\n'],
    ['|', 'Time|ICP (mmHg)\n2031-02-11 02:10:00|12,5\n'],
  ])('is found with its delimiter %j', (delimiter, head) => {
    expect(layoutOf(head)).toMatchObject({ delimiter, headerLine: 1, dataLine: 2, unitsRow: null });
  });

  test('is the row that reads like one, and not a line above it that uses its words', () => {
    const layout = layoutOf(
      'ICP report, night of 11 Feb\nTime of export,2031-02-12 08:00\n\nPatient,101,ICP\nTime,ICP (mmHg),Note\n2031-02-11 02:10:00,12,\n',
    );
    expect(layout).toMatchObject({ headers: ['Time', 'ICP (mmHg)', 'Note'], headerLine: 5, dataLine: 6 });
    expect(layout.preamble.map(({ line }) => line)).toEqual([1, 2, 4]);
  });

  test('is read with the delimiter under which it makes sense, whatever the lines above use', () => {
    const layout = layoutOf('a;b;c;d;e\nf;g;h;i;j\nk;l;m;n;o\nTime,ICP (mmHg)\n2031-02-11 02:10:00,12\n');
    expect(layout).toMatchObject({ delimiter: ',', headerLine: 4 });
  });

  test('may be announced by a line that names the delimiter', () => {
    const layout = layoutOf('sep=|\nTime|ICP, mean (mmHg)|MAP, mean (mmHg)\n2031-02-11 02:10:00|12|80\n');
    expect(layout).toMatchObject({
      delimiter: '|',
      headerLine: 2,
      headers: ['Time', 'ICP, mean (mmHg)', 'MAP, mean (mmHg)'],
    });
  });

  test('may be one that the pipeline file names', () => {
    const columns = { time: { header: 'When' }, icp: { header: 'P3', unit: 'mmHg' } };
    expect(layoutOf('x,y\nWhen,P3\n2031-02-11 02:10:00,12\n', { columns })).toMatchObject({ headerLine: 2 });
  });

  test('is the first of two, since the second is for the rows to meet', () => {
    const rows = 'Time,ICP (mmHg)\n2031-02-11 02:10:00,12\n';
    expect(layoutOf(rows + rows)).toMatchObject({ headerLine: 1, dataLine: 2 });
  });
});

describe('a row of units', () => {
  test.each([
    ['plain', ',mmHg,mmHg'],
    ['in brackets', '(local),(mmHg),[kPa]'],
    ['in UCUM, beside a pattern for the time', 'yyyy-mm-dd hh:mm:ss,mm[Hg],mm[Hg]'],
  ])('under the header is no data: %s', (_, units) => {
    const layout = layoutOf(`Time,ICP,MAP\n${units}\n2031-02-11 02:10:00,12,80\n`);
    expect(layout.unitsRow).toHaveLength(3);
    expect(layout.dataLine).toBe(3);
    expect(layout.samples).toHaveLength(1);
  });

  test.each(['2031-02-11 02:10:00,12,80', ',,', '2031-02-11 02:10:00,mmHg,80'])(
    'is not seen in %j',
    (row) => {
      expect(layoutOf(`Time,ICP (mmHg),MAP (mmHg)\n${row}\n`).unitsRow).toBeNull();
    },
  );
});
