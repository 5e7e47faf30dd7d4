import { describe, expect, test } from 'vitest';
import {
  asideOf,
  expectAccount,
  ICP_HEADER,
  icpRows,
  ingestOne,
  START,
  samplesOf,
  valuesOf,
  whyFailed,
} from './support.js';

const unclosed =
  'a quote is opened and never closed. Correct the quotes in this row, or export the file again.';
const misplaced = 'text follows a closing quote. Correct the quotes in this row, or export the file again.';
const badCell = (line: number): string =>
  `a.csv:${line} unreadable: column "ICP (mmHg)": "x" is not a number`;

/** What is wrong in a file, and how long it took to say so, in seconds. */
async function timed(content: string): Promise<{ problem: string | null; seconds: number }> {
  const start = performance.now();
  const problem = await whyFailed(content);
  return { problem, seconds: (performance.now() - start) / 1000 };
}

describe('line breaks', () => {
  const lines = (ICP_HEADER + icpRows(5)).trimEnd().split('\n');

  test.each([
    ['LF', '\n'],
    ['CRLF', '\r\n'],
    ['CR', '\r'],
    ['CR CR LF, as a text mode doubles it', '\r\r\n'],
  ])('may be %s, with or without one at the end', async (_, ending) => {
    const expected = samplesOf(await ingestOne(lines.join('\n')), 'icp');
    for (const content of [lines.join(ending), lines.join(ending) + ending]) {
      const outcome = await ingestOne(content);
      expect(samplesOf(outcome, 'icp')).toEqual(expected);
      expectAccount(outcome, { read: 5, used: 5 });
    }
  });

  test.each([
    ['a header with CRLF over rows with LF', ['\r\n', '\n', '\n', '\n', '\n', '\n']],
    ['a header with LF over rows with CRLF', ['\n', '\r\n', '\r\n', '\r\n', '\r\n', '']],
    ['both in turn', ['\r\n', '\n', '\r\n', '\n', '\r\n', '\n']],
  ])('may be mixed: %s', async (_, endings) => {
    const outcome = await ingestOne(lines.map((line, i) => line + endings[i]).join(''));
    expectAccount(outcome, { read: 5, used: 5 });
  });

  test.each(['\n', '\r\n', '\r\r\n', '\r'])('%j count as one line each in messages', async (ending) => {
    const content = `${ICP_HEADER}${icpRows(3)}2031-02-11 02:30:00,x\n`.replaceAll('\n', ending);
    const outcome = await ingestOne(content);
    expect(asideOf(outcome)).toEqual([badCell(5)]);
    expect(outcome.setAside[0].row).toBe('2031-02-11 02:30:00,x');
  });

  test('that make lines blank are passed over and counted', async () => {
    const outcome = await ingestOne(
      `\n\n${ICP_HEADER}\n${icpRows(2)}\n   \n\t\n${icpRows(2, START + 5000)}\n\n`,
    );
    expectAccount(outcome, { read: 4, used: 4 });
    const content = `\n\n${ICP_HEADER}\n${icpRows(2)}\n \n2031-02-11 02:30:00,x\n`;
    expect(asideOf(await ingestOne(content))).toEqual([badCell(9)]);
  });

  test('may be CR in a file of any size', async () => {
    const content = `${ICP_HEADER}${icpRows(60_000)}2031-02-12 02:30:00,x\n`.replaceAll('\n', '\r');
    const outcome = await ingestOne(content);
    expectAccount(outcome, { read: 60_001, used: 60_000 });
    expect(asideOf(outcome)).toEqual([badCell(60_002)]);
    expect(outcome.setAside[0].row).toBe('2031-02-12 02:30:00,x');
  });

  test('a byte order mark at the start is no part of the first header', async () => {
    expectAccount(await ingestOne(`\ufeff${ICP_HEADER}${icpRows(2)}`), { read: 2, used: 2 });
    expectAccount(await ingestOne(`\ufeff"Time","ICP (mmHg)"\n${icpRows(2)}`), { read: 2, used: 2 });
  });

  test('a semicolon, a tab or a bar may stand between the cells', async () => {
    for (const delimiter of [';', '\t', '|']) {
      const content = (ICP_HEADER + icpRows(3)).replaceAll(',', delimiter);
      expectAccount(await ingestOne(content), { read: 3, used: 3 });
    }
  });
});

describe('quoted cells', () => {
  test('may hold delimiters, doubled quotes and line breaks, and the lines behind are counted right', async () => {
    const content =
      'Time,"ICP\n(mmHg)",Note\n' +
      '2031-02-11 02:00:00,12,"turned, ""left""\nthen\r\nback"\n' +
      '2031-02-11 02:00:01,13,"a\n\nb"\n' +
      '2031-02-11 02:00:02,14,\n' +
      '2031-02-11 02:00:03,x,\n';
    const good = content.replace(',x,', ',15,');
    expect(valuesOf(await ingestOne(good), 'icp')).toEqual([12, 13, 14, 15]);
    expect(asideOf(await ingestOne(content))).toEqual([
      'a.csv:10 unreadable: column "ICP (mmHg)": "x" is not a number',
    ]);
  });

  test('with line breaks may stand across the blocks in which a large file is read', async () => {
    const count = 60_000;
    const rows = icpRows(count).replaceAll('\n', ',"a, ""b""\nc"\n');
    const content = `Time,ICP (mmHg),Note\n${rows}2031-02-12 02:00:00,x,\n`;
    expect(asideOf(await ingestOne(content))).toEqual([badCell(2 + 2 * count)]);
    expectAccount(await ingestOne(content.replace(',x,', ',12,')), { read: count + 1, used: count + 1 });
  });

  test('are not begun by a quote inside a cell, however large the file', async () => {
    const note = `2031-02-11 01:00:00,12,tube 8" deep\n`;
    const rows = icpRows(60_000).replaceAll('\n', ',\n');
    const outcome = await ingestOne(`Time,ICP (mmHg),Note\n${note}${rows}`);
    expectAccount(outcome, { read: 60_001, used: 60_001 });
  });

  test('that are never closed are refused at their line, and no row is lost without a word', async () => {
    const content = `${ICP_HEADER}${icpRows(50)}"${icpRows(100, START + 60_000)}`;
    expect(await whyFailed(content)).toBe(`a.csv, line 52: ${unclosed}`);
  });

  test('that are closed only in a later row are refused at their line', async () => {
    const content = `${ICP_HEADER}${icpRows(50)}"${icpRows(100, START + 60_000)}"2031-02-12 02:00:00",12\n`;
    expect(await whyFailed(content)).toBe(`a.csv, line 52: ${misplaced}`);
  });

  test('that go on behind their closing quote are refused', async () => {
    expect(await whyFailed('Time,ICP (mmHg),Note\n2031-02-11 02:00:00,12,"turned" left\n')).toBe(
      `a.csv, line 2: ${misplaced}`,
    );
  });

  test('that are never closed are refused fast at the top of a 5 MB file', async () => {
    const rows = icpRows(250_000);
    const inHeader = await timed(`"Time,ICP (mmHg)\n${rows}`);
    expect(inHeader.problem).toBe(`a.csv, line 1: ${unclosed}`);
    const inRow = await timed(`${ICP_HEADER}"${rows}`);
    expect(inRow.problem).toBe(`a.csv, line 2: ${unclosed}`);
    expect(Math.max(inHeader.seconds, inRow.seconds)).toBeLessThan(10);
  });

  test('that are never closed are refused at their line though they stand deep in a large file', async () => {
    const content = `${ICP_HEADER}${icpRows(30_000)}"${icpRows(60_000, START + 1e8)}`;
    expect(await whyFailed(content)).toBe(`a.csv, line 30002: ${unclosed}`);
  });

  test.each([
    ['quotes alone', '"'.repeat(3_000_001)],
    ['stray quotes', '"x" y,'.repeat(500_000)],
    ['stray quotes and line breaks', '"x\n'.repeat(1_000_000)],
  ])('are refused fast where 3 MB hold %s', async (_, mess) => {
    const { problem, seconds } = await timed(`${ICP_HEADER}${mess}\n`);
    expect(problem).toMatch(/^a\.csv, line 2: /);
    expect(seconds).toBeLessThan(10);
  });
});

describe('a very long line', () => {
  const tooLong =
    'a record is longer than 1 MB. Look for a quote that is never closed, or for missing line breaks.';

  test.each([
    ['digits', '1'.repeat(3_000_000)],
    ['delimiters', ','.repeat(3_000_000)],
    ['a file without line breaks', icpRows(150_000).replaceAll('\n', ',')],
  ])('of 3 MB is refused fast, with its line: %s', async (_, line) => {
    const { problem, seconds } = await timed(
      `${ICP_HEADER}${icpRows(2)}${line}\n${icpRows(2, START + 9000)}`,
    );
    expect(problem).toBe(`a.csv, line 4: ${tooLong}`);
    expect(seconds).toBeLessThan(10);
  });

  test('of half a megabyte is a row like another', async () => {
    const content = `Time,ICP (mmHg),Note\n2031-02-11 02:00:00,12,${'x'.repeat(500_000)}\n2031-02-11 02:00:01,x,\n`;
    const outcome = await ingestOne(content);
    expect(asideOf(outcome)).toEqual([badCell(3)]);
    expectAccount(outcome, { read: 2, used: 1 });
  });

  test('that is set aside is shown cut', async () => {
    const note = 'x'.repeat(500_000);
    const content = `Time,ICP (mmHg),Note\n2031-02-11 02:00:00,12,\n2031-02-11 02:00:01,x,${note}\n2031-02-11 02:00:02,y,\n2031-02-11 02:00:03,12,\n`;
    const outcome = await ingestOne(content);
    expect(outcome.setAside.map(({ line, row }) => [line, row])).toEqual([
      [3, `2031-02-11 02:00:01,x,${note.slice(0, 1978)}...`],
      [4, '2031-02-11 02:00:02,y,'],
    ]);
  });

  test('of half a megabyte before a CRLF does not upset the count of lines', async () => {
    const content = `Time,ICP (mmHg),${'x'.repeat(262_120)}\r\n${icpRows(3).replaceAll('\n', ',\r\n')}x,12,\r\n2031-02-12 02:00:00,12,\r\n`;
    for (let shift = 0; shift < 12; shift++) {
      const outcome = await ingestOne(content.replace('xx', 'x'.repeat(2 + shift)));
      expect(outcome.setAside.map(({ line, row }) => [line, row])).toEqual([[5, 'x,12,']]);
    }
  });

  test('of 60,000 columns is read', async () => {
    const header = `Time,ICP (mmHg),${Array.from({ length: 60_000 }, (_, i) => `c${i}`).join(',')}`;
    const row = `2031-02-11 02:00:00,12${','.repeat(60_000)}`;
    expectAccount(await ingestOne(`${header}\n${row}\n`), { read: 1, used: 1 });
  });
});
