import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { toCsv } from '../../src/report/tables/csv.js';
import { dictionary, tidyCsv } from '../../src/report/tables/tidy-table.js';

describe('CSV that is written', () => {
  it('neutralises what a spreadsheet would run, and leaves numbers alone (OWASP, CSV injection)', () => {
    const csv = toCsv(
      ['a'],
      [['=1+1'], ['@cmd'], ['+49 30'], ['-x'], ['\tx'], ['-5.2'], ['+3'], [-5.2], ['plain']],
    );
    const { data } = Papa.parse<string[]>(csv.trimEnd());
    expect(data.slice(1).map(([cell]) => cell)).toEqual([
      "'=1+1",
      "'@cmd",
      "'+49 30",
      "'-x",
      "'\tx",
      '-5.2',
      '+3',
      '-5.2',
      'plain',
    ]);
  });

  it('follows RFC 4180: CRLF, quotes where needed', () => {
    expect(
      toCsv(
        ['a', 'b'],
        [
          ['x,"y"', null],
          ['two\nlines', true],
        ],
      ),
    ).toBe('a,b\r\n"x,""y""",\r\n"two\nlines",true\r\n');
  });

  it('keeps numbers unrounded and columns in the order of the dictionary', () => {
    const table = {
      name: 't',
      says: 'a table',
      columns: [
        { name: 'b', unit: 'h', says: 'hours' },
        { name: 'a', unit: '', says: 'name' },
      ],
      rows: [{ a: 'x', b: 0.1 + 0.2, c: 'not described' }],
    };
    expect(tidyCsv(table)).toBe('b,a\r\n0.30000000000000004,x\r\n');
    expect(tidyCsv({ ...table, rows: [] })).toBe('b,a\r\n');
    expect(dictionary([table])).toBe(
      'table,tableSays,column,unit,says\r\nt,a table,b,h,hours\r\nt,a table,a,,name\r\n',
    );
  });
});
