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
    expect(await whyFailed('Date,ICP (mmHg)\n2031-02-11,12\n')).toBe(
      'a.csv, line 1: there is no time column. A header such as "Time" is expected; the columns are "Date", "ICP (mmHg)". Name it in the pipeline file as columns: {time: ...}.',
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

  test('is refused in the long shape, a row a value, which is not read yet', async () => {
    const long =
      'Time,Parameter,Value,Unit\n2031-02-11 02:10:00,ICP,12,mmHg\n2031-02-11 02:10:00,MAP,80,mmHg\n';
    expect(await whyFailed(long)).toContain('a.csv: there is no ICP column.');
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

describe('a file that is no text in UTF-8', () => {
  const nul = 'the file holds NUL characters, so it is no plain-text CSV. Export it again as CSV in UTF-8.';
  const notUtf8 = 'the file holds characters that are not UTF-8. Export it again as CSV in UTF-8.';

  test('is refused where it is UTF-16', async () => {
    const text = ICP_HEADER + icpRows(3);
    expect(await whyFailed(Buffer.from(text, 'utf16le'))).toBe(`a.csv, line 1: ${nul}`);
    const marked = Buffer.from(`\ufeff${text}`, 'utf16le');
    expect(await whyFailed(marked)).toBe(`a.csv, line 1: ${nul}`);
    expect(await whyFailed(Buffer.from(marked).swap16())).toBe(`a.csv, line 1: ${nul}`);
  });

  test('is refused at the line of a NUL character, however late', async () => {
    expect(await whyFailed(`${ICP_HEADER}${icpRows(40_000)}2031-02-12 02:10:00,1\u0000\n`)).toBe(
      `a.csv, line 40002: ${nul}`,
    );
  });

  test('is refused where it is Latin-1, which would make two patients one', async () => {
    const text = 'Time,ICP (mmHg),Name\n2031-02-11 02:10:00,10,B\u00f8\n2031-02-11 02:10:01,12,B\u00e4\n';
    const outcomes = await ingestFiles(
      { 'a.csv': Buffer.from(text, 'latin1') },
      { patient: { column: 'Name' } },
    );
    expect(outcomes.map(({ id, problem }) => [id, problem])).toEqual([
      ['a.csv', `a.csv, line 2: ${notUtf8}`],
    ]);
  });

  test('is refused where it is cut inside a character', async () => {
    const whole = Buffer.from(`${ICP_HEADER}2031-02-11 02:10:00,12\n\u00b0`);
    expect(await whyFailed(whole.subarray(0, -1))).toBe(`a.csv, line 3: ${notUtf8}`);
  });

  test('is refused where it is an archive or a picture', async () => {
    expect(await whyFailed(Buffer.from('PK\u0003\u0004\u0014\u0000\u0006\u0000', 'latin1'))).toBe(
      `a.csv, line 1: ${nul}`,
    );
    expect(await whyFailed(Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a]))).toBe(
      `a.csv, line 1: ${notUtf8}`,
    );
  });

  test('is read where a character of several bytes stands across two blocks', async () => {
    const header = `Time,ICP (mmHg),Note\n`;
    for (const shift of [0, 1, 2]) {
      const rows = Array.from({ length: 5 }, (_, i) => {
        return `2031-02-11 02:10:0${i},1${i},${'x'.repeat(shift)}${'\u20ac'.repeat(40_000)}\n`;
      });
      expect(await whyFailed(header + rows.join(''))).toBeNull();
    }
  });
});
