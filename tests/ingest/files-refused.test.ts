import { Buffer } from 'node:buffer';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { ingestGroup } from '../../src/ingest/ingest.js';
import {
  ICP_HEADER,
  icpRows,
  inFolder,
  ingestFiles,
  ingestOne,
  rowsSetAside,
  START,
  settingsWith,
  whyFailed,
} from './support.js';

describe('a file that holds nothing to read', () => {
  test.each([
    ['nothing', ''],
    ['only a byte order mark', '\ufeff'],
    ['only blank lines', '\n\r\n   \n'],
    ['nothing, packed', gzipSync('')],
  ])('is refused: %s', async (_, content) => {
    expect(await whyFailed(content)).toBe('a.csv: the file is empty. Export it again.');
  });

  test.each([ICP_HEADER, 'Time,ICP (mmHg)', `${ICP_HEADER}\n\n`])(
    'is refused: only a header, %j',
    async (content) => {
      expect(await whyFailed(content)).toBe('a.csv: the file has a header and no rows. Export it again.');
    },
  );
});

describe('a file whose columns do not do', () => {
  test('is refused without a time column', async () => {
    expect(await whyFailed('Moment,ICP (mmHg)\n2031-02-11 02:10:00,12\n')).toBe(
      'a.csv, line 1: there is no time column. A header such as "Time" is expected; the columns are "Moment", "ICP (mmHg)". Name it in the pipeline file as columns: {time: ...}.',
    );
  });

  test('is refused with dates that no time of day goes with', async () => {
    expect(await whyFailed('Date,ICP (mmHg)\n2031-02-11,12\n')).toBe(
      'a.csv, line 2: the only row cannot be used: column "Date": "2031-02-11" is a date without a time of day. Times are expected as 2031-02-11 02:10:00, with or without an offset.',
    );
  });

  test('is refused without a header at all', async () => {
    expect(await whyFailed('2031-02-11 02:10:00,12\n2031-02-11 02:10:01,12\n')).toBe(
      'a.csv, line 1: there is no time column. A header such as "Time" is expected; the columns are "2031-02-11 02:10:00", "12". Name it in the pipeline file as columns: {time: ...}.',
    );
  });

  test('is refused without an ICP column', async () => {
    const outcome = await ingestOne('Time,MAP (mmHg)\n2031-02-11 02:10:00,80\n');
    expect(outcome.problem).toBe(
      'a.csv: there is no ICP column. A header such as "ICP (mmHg)" is expected; name the column in the pipeline file as columns: {icp: {header: ..., unit: ...}}.',
    );
    expect([outcome.rowsRead, rowsSetAside(outcome)]).toEqual([1, 1]);
    // A study tells who had no ICP from whose exports could not be read.
    expect(outcome.lacksIcp).toBe(true);
    const unread = await ingestOne('Time,MAP (mmHg)\n2031-02-11 02:10:00,much\n');
    expect(unread.problem).not.toBeNull();
    expect(unread.lacksIcp ?? false).toBe(false);
  });

  test('is refused without a unit', async () => {
    expect(await whyFailed('\nTime,ICP\n2031-02-11 02:10:00,12\n')).toBe(
      'a.csv, line 2, column "ICP": its unit is not given. Write it into the header, as in "ICP (mmHg)", or into the pipeline file under columns, as in icp: {unit: mmHg}.',
    );
  });

  test('is refused with a unit that is not known', async () => {
    expect(await whyFailed('Time,ICP (Torr)\n2031-02-11 02:10:00,12\n')).toBe(
      'a.csv, line 1, column "ICP (Torr)": the unit "Torr" is not known. Use mmHg, cmH2O or kPa, or declare the unit in the pipeline file under columns.',
    );
  });

  test('is refused in the shape of a row a value where no parameter is ICP', async () => {
    const long = 'Time,Parameter,Value,Unit\n2031-02-11 02:10:00,MAP,80,mmHg\n';
    expect(await whyFailed(long)).toContain('a.csv: there is no ICP column.');
    expect(await whyFailed(`${long}2031-02-11 02:10:00,ICP,12,mmHg\n`)).toBeNull();
  });
});

describe('a file that cannot be read', () => {
  const readPath = (pathIn: (folder: string) => string) =>
    inFolder({ 'a.csv': ICP_HEADER }, async (folder) => {
      const files = [{ path: pathIn(folder), name: 'gone.csv' }];
      const [{ problem }] = await ingestGroup({ id: 'a', files }, settingsWith());
      return problem;
    });

  test('is refused where it is gone since it was found', async () => {
    expect(await readPath((folder) => join(folder, 'gone.csv'))).toBe(
      'gone.csv: there is no such file. Look at its name and folder.',
    );
  });

  test('is refused where it is a folder, without the path on this machine', async () => {
    expect(await readPath((folder) => folder)).toBe(
      'gone.csv: the file cannot be read (EISDIR). Look at its permissions, or copy it again.',
    );
  });

  test('is refused where a file stands in the place of its folder', async () => {
    expect(await readPath((folder) => join(folder, 'a.csv', 'b.csv'))).toBe(
      'gone.csv: the file cannot be read (ENOTDIR). Look at its permissions, or copy it again.',
    );
  });
});

describe('a file that is no plain text', () => {
  const nul = 'the file holds NUL characters, so it is no plain-text CSV. Export it again as CSV.';

  test('is refused at the line of a NUL character, however late', async () => {
    expect(await whyFailed(`${ICP_HEADER}${icpRows(40_000)}2031-02-12 02:10:00,1\u0000\n`)).toBe(
      `a.csv, line 40002: ${nul}`,
    );
    const wide = Buffer.from(`${ICP_HEADER}2031-02-12 02:10:00,1\u0000\n`, 'utf16le');
    expect(await whyFailed(wide)).toBe(`a.csv, line 2: ${nul}`);
  });

  test('is refused where it is an archive, a workbook or a picture', async () => {
    expect(await whyFailed(Buffer.from('PK\u0003\u0004\u0014\u0000\u0006\u0000', 'latin1'))).toBe(
      'a.csv: the file is a zip archive or a spreadsheet workbook, and no CSV. Unpack it, or save the sheet as CSV.',
    );
    const picture = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0x00, 0x00, 0x00, 0x0d]);
    expect(await whyFailed(picture)).toBe(`a.csv, line 3: ${nul}`);
  });
});

describe('the encoding of a file', () => {
  const text =
    'Time,ICP (mmHg),Name\n2031-02-11 02:10:00,10,B\u00f8\n2031-02-11 02:10:01,12,B\u00e4\n2031-02-11 02:10:02,13,B\u00f8\n';
  const wide = Buffer.from(`\ufeff${text}`, 'utf16le');

  test.each([
    ['UTF-8', Buffer.from(text)],
    ['UTF-8 with a mark', Buffer.from(`\ufeff${text}`)],
    ['UTF-16, low byte first, with a mark', wide],
    ['UTF-16, high byte first, with a mark', Buffer.from(wide).swap16()],
    ['UTF-16, low byte first, without a mark', wide.subarray(2)],
    ['UTF-16, high byte first, without a mark', Buffer.from(wide.subarray(2)).swap16()],
    ['Latin-1', Buffer.from(text, 'latin1')],
    ['UTF-8, packed', gzipSync(text)],
    ['UTF-16, packed', gzipSync(wide)],
    ['Latin-1, packed', gzipSync(Buffer.from(text, 'latin1'))],
  ])('may be %s, and tells its patients apart', async (_, content) => {
    const outcomes = await ingestFiles({ 'a.csv': content }, { patient: { column: 'Name' } });
    expect(outcomes.map(({ id, problem, rowsRead }) => [id, problem, rowsRead])).toEqual([
      ['B\u00f8', null, 2],
      ['B\u00e4', null, 1],
    ]);
  });

  test('may be Windows-1252, which has more characters than Latin-1', async () => {
    const content = Buffer.concat([
      Buffer.from('Time,ICP (mmHg),Name\n2031-02-11 02:10:00,10,'),
      Buffer.from([0x80, 0x9c, 0xb0]),
    ]);
    const outcomes = await ingestFiles({ 'a.csv': content }, { patient: { column: 'Name' } });
    expect(outcomes.map(({ id }) => id)).toEqual(['\u20ac\u0153\u00b0']);
  });

  test('may be Latin-1 though the first of its letters stands deep in the file', async () => {
    const header = 'Time,ICP (mmHg),Note\n';
    const rows = icpRows(40_000).replaceAll('\n', ',\n');
    const content = Buffer.from(`${header}${rows}x,12,B\u00f8\n${icpRows(3, START + 1e9)}`, 'latin1');
    const outcome = await ingestOne(content);
    expect(outcome.setAside[0].row).toBe('x,12,B\u00f8');
  });

  test('is of no matter to a row that is set aside, which is shown as it came', async () => {
    const bad = 'x,12,B\u00f8\n';
    const rows = `${text}${bad}2031-02-11 02:10:05,12,\n`;
    for (const content of [
      Buffer.from(rows),
      Buffer.from(rows, 'latin1'),
      Buffer.from(rows, 'utf16le'),
      gzipSync(Buffer.from(rows, 'utf16le')),
    ]) {
      expect((await ingestOne(content)).setAside).toMatchObject([{ line: 5, row: 'x,12,B\u00f8' }]);
    }
  });

  test('may be damaged in a text cell, which is no fault', async () => {
    const content = Buffer.concat([
      Buffer.from(`${text}2031-02-11 02:10:05,12,`),
      Buffer.from([0xc3]),
      Buffer.from('x\n2031-02-11 02:10:06,13,\ufffd\n'),
    ]);
    const outcome = await ingestOne(content);
    expect([outcome.rowsRead, outcome.problem, outcome.setAside]).toEqual([5, null, []]);
  });

  test('may end inside a character, whose row is then no row of data', async () => {
    const whole = Buffer.from(`${ICP_HEADER}2031-02-11 02:10:00,12\n\u00b0`);
    expect((await ingestOne(whole.subarray(0, -1))).setAside).toMatchObject([{ line: 3, kind: 'footer' }]);
  });

  test('is read where a character of several bytes stands across two blocks', async () => {
    const header = `Time,ICP (mmHg),Note\n`;
    for (const encoding of ['utf8', 'utf16le'] as const) {
      for (const shift of [0, 1, 2]) {
        const rows = Array.from({ length: 5 }, (_, i) => {
          return `2031-02-11 02:10:0${i},1${i},${'x'.repeat(shift)}${'\u20ac'.repeat(40_000)}\n`;
        });
        const outcome = await ingestOne(Buffer.from(`\ufeff${header}${rows.join('')}`, encoding));
        expect([outcome.problem, outcome.rowsRead, outcome.setAside]).toEqual([null, 5, []]);
      }
    }
  });
});
