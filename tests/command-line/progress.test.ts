import { Writable } from 'node:stream';
import type { WriteStream } from 'node:tty';
import { describe, expect, it } from 'vitest';
import { progressLine } from '../../src/command-line/progress.js';

/** A stream that says it is a terminal of this width, and keeps what is written. */
function terminal(columns: number, isTTY = true): { stream: WriteStream; written: () => string } {
  const parts: string[] = [];
  const stream = new Writable({
    write(chunk, _encoding, done) {
      parts.push(String(chunk));
      done();
    },
  });
  const ansi = { clearLine: () => true, cursorTo: () => true, moveCursor: () => true };
  return {
    stream: Object.assign(stream, { isTTY, columns, ...ansi }) as unknown as WriteStream,
    written: () => parts.join(''),
  };
}

const run = async (stream: WriteStream): Promise<void> => {
  const progress = progressLine(stream);
  progress.show(3, 11);
  await new Promise((resolve) => setTimeout(resolve, 250));
  progress.end();
};

describe('the progress line', () => {
  it('is shown on a terminal', async () => {
    const { stream, written } = terminal(80);
    await run(stream);
    expect(written()).toContain('3 of 11 patients');
  });

  it.each([
    ['a pipe', 80, false],
    ['a terminal that says it has no columns', 0, true],
  ])('is not shown on %s', async (_what, columns, isTTY) => {
    const { stream, written } = terminal(columns, isTTY);
    await run(stream);
    expect(written()).toBe('');
  });
});
