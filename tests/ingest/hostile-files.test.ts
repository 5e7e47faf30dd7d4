import { Buffer } from 'node:buffer';
import { gzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { ingestGroup } from '../../src/ingest/ingest.js';
import { ICP_HEADER, icpRows, settingsWith } from './support.js';

const MB = 1 << 20;

/** Reads chunks as one file; tells the problem, and how many bytes were taken before it. */
async function meet(chunks: () => Iterable<Uint8Array>): Promise<{ problem: string | null; taken: number }> {
  let taken = 0;
  async function* open(): AsyncGenerator<Uint8Array> {
    for (const chunk of chunks()) {
      taken += chunk.length;
      yield chunk;
    }
  }
  const file = { path: 'a.csv', name: 'a.csv', open };
  const [outcome] = await ingestGroup({ id: 'a', files: [file] }, settingsWith());
  return { problem: outcome.problem, taken };
}

function* repeated(chunk: Uint8Array, bytes: number): Generator<Uint8Array> {
  for (let sent = 0; sent < bytes; sent += chunk.length) yield chunk;
}

const chunkOf = (text: string): Uint8Array => Buffer.from(text.repeat(Math.ceil((1 << 16) / text.length)));
const TOO_LONG =
  'a record is longer than 1 MB. Look for a quote that is never closed, or for missing line breaks.';

describe('a hostile file ends in a message, and is not read to its end', () => {
  test('a single line of 200 MB', async () => {
    const { problem, taken } = await meet(() => repeated(chunkOf('x'), 200 * MB));
    expect(problem).toBe(`a.csv, line 1: ${TOO_LONG}`);
    expect(taken).toBeLessThan(2 * MB);
  });

  test('a line of 200 MB behind good rows', async () => {
    const { problem, taken } = await meet(function* () {
      yield Buffer.from(ICP_HEADER + icpRows(100));
      yield* repeated(chunkOf('1'), 200 * MB);
    });
    expect(problem).toBe(`a.csv, line 102: ${TOO_LONG}`);
    expect(taken).toBeLessThan(2 * MB);
  });

  test('a million columns', async () => {
    const { problem, taken } = await meet(() => repeated(chunkOf(','), MB));
    expect(problem).toBe(`a.csv, line 1: ${TOO_LONG}`);
    expect(taken).toBeLessThan(2 * MB);
  });

  test('half a million columns in each of many rows', async () => {
    const line = Buffer.from(`${'1,'.repeat(450_000)}1\n`);
    const { problem, taken } = await meet(() => repeated(line, 200 * MB));
    expect(problem).toBe(
      'a.csv, line 1: the row has 450001 cells. An export has 100000 columns at most; look for missing line breaks.',
    );
    expect(taken).toBeLessThan(4 * MB);
  });

  test('NUL bytes without end', async () => {
    const { problem, taken } = await meet(() => repeated(new Uint8Array(1 << 16), 200 * MB));
    expect(problem).toBe(
      'a.csv, line 1: the file holds NUL characters, so it is no plain-text CSV. Export it again as CSV.',
    );
    expect(taken).toBeLessThan(2 * MB);
  });

  test('a stray quote at the top of a large file', async () => {
    const rows = Buffer.from(icpRows(2_000));
    const { problem, taken } = await meet(function* () {
      yield Buffer.from(`${ICP_HEADER}"`);
      yield* repeated(rows, 200 * MB);
    });
    expect(problem).toBe(
      'a.csv, line 2: a quote is opened and never closed. Correct the quotes in this row, or export the file again.',
    );
    expect(taken).toBeLessThan(2 * MB);
  });

  test('a stray quote in the header', async () => {
    const { problem, taken } = await meet(function* () {
      yield Buffer.from('Time,"ICP (mmHg)\n');
      yield* repeated(Buffer.from(icpRows(2_000)), 200 * MB);
    });
    expect(problem).toBe(
      'a.csv, line 1: a quote is opened and never closed. Correct the quotes in this row, or export the file again.',
    );
    expect(taken).toBeLessThan(2 * MB);
  });

  test('a gzip bomb of rows', async () => {
    const bomb = gzipSync(Buffer.from(ICP_HEADER + '2031-02-11 02:10:00,12\n'.repeat(3_200_000)));
    const { problem } = await meet(() => [bomb]);
    expect(problem).toBe(
      'a.csv: the gzip data unpack to more than 200 times their size. No export does that; look at where the file comes from.',
    );
  });

  test('a gzip bomb of one line', async () => {
    const bomb = gzipSync(Buffer.alloc(100 * MB, 'x'));
    expect((await meet(() => [bomb])).problem).toBe(`a.csv, line 1: ${TOO_LONG}`);
  });

  test('a workbook with the name of a CSV', async () => {
    const { problem } = await meet(() => [Buffer.from('PK\u0003\u0004\u0014\u0000\u0006\u0000')]);
    expect(problem).toBe(
      'a.csv: the file is a zip archive or a spreadsheet workbook, and no CSV. Unpack it, or save the sheet as CSV.',
    );
  });
});
