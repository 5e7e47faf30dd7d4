import { Writable } from 'node:stream';
import type { WriteStream } from 'node:tty';
import { describe, expect, it } from 'vitest';
import { Pace } from '../../src/command-line/pace.js';
import { progressOn } from '../../src/command-line/progress.js';
import type { PatientEvent, RunEvent } from '../../src/pipeline/run-event.js';

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

const START: RunEvent = { event: 'start', pass: 1, patients: 11, bytes: 11_000 };
const AGAIN: RunEvent = { event: 'start', pass: 2, patients: 1, bytes: 1000 };
const patient = (event: PatientEvent['event'], finished: number, why?: string): PatientEvent => ({
  ...{ event, pass: 1, patient: `10${finished}`, rows: 500, bytes: 1000, finished, kept: finished, of: 11 },
  ...(why === undefined ? {} : { why }),
});

const run = async (stream: WriteStream, isJson = false): Promise<void> => {
  const progress = await progressOn(isJson, stream);
  for (const event of [START, patient('done', 1), patient('reused', 2), patient('failed', 3, 'torn')])
    progress.event(event);
  await new Promise((resolve) => setTimeout(resolve, 250));
  progress.event(AGAIN);
  progress.end();
  progress.say('patient 103 failed: torn', { event: 'failed' });
  progress.say('a word', { event: 'warning' });
};

describe('progress', () => {
  it('is one moving line on a terminal', async () => {
    const { stream, written } = terminal(80);
    await run(stream);
    expect(written()).toContain('3 of 11 patients');
    expect(written()).not.toContain('patient 101');
    expect(written()).toContain('cistern: a word\n');
  });

  it.each([
    ['a pipe', 80, false],
    ['a terminal that says it has no columns', 0, true],
  ])('is a line a patient on %s', async (_what, columns, isTTY) => {
    const { stream, written } = terminal(columns, isTTY);
    await run(stream);
    expect(written()).toBe(
      [
        'cistern: 1 of 11, patient 101: 500 rows read',
        'cistern: 2 of 11, patient 102: as it was stored',
        'cistern: 3 of 11, patient 103: failed',
        'cistern: 1 patient again, over the night of the unit',
        'cistern: patient 103 failed: torn',
        'cistern: a word',
        '',
      ].join('\n'),
    );
  });

  it.each([
    ['a terminal', true, /printing 12 pages[\s\S]*printed 1 of 12 pages/],
    ['a pipe', false, /^cistern: printing 12 pages\n$/],
  ])('tells of printing on %s', async (_what, isTTY, expected) => {
    const { stream, written } = terminal(80, isTTY);
    const progress = await progressOn(false, stream);
    const drawn = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 250));
    progress.event({ event: 'printing', pages: 12 });
    await drawn();
    progress.event({ event: 'printed', page: 'index.html', finished: 1, of: 12 });
    await drawn();
    progress.end();
    expect(written()).toMatch(expected);
  });

  it('is an object a line for machines, each failure once and with its reason', async () => {
    const { stream, written } = terminal(80);
    await run(stream, true);
    const lines = written()
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(lines.map(({ event }) => event)).toEqual([
      'start',
      'done',
      'reused',
      'failed',
      'start',
      'warning',
    ]);
    expect(lines[3]).toMatchObject({ patient: '103', rows: 500, finished: 3, of: 11, why: 'torn' });
    expect(lines[5]).toMatchObject({ text: 'a word' });
    for (const { time } of lines) expect(time).toMatch(/^\d{4}-\d\d-\d\dT[\d:.]+Z$/);
  });
});

describe('the pace of a run', () => {
  /** What is said after so many seconds for each event. */
  function said(...events: (readonly [seconds: number, event: RunEvent])[]): string {
    let now = 0;
    const pace = new Pace(() => now);
    for (const [seconds, event] of events) {
      now = seconds * 1000;
      pace.take(event);
    }
    return pace.words();
  }

  it('is rows a second and the time left by the bytes that are left', () => {
    expect(said([0, START], [2, patient('done', 1)])).toBe(', 250 rows a second, about 20 s left');
    expect(said([0, START], [12, patient('done', 1)])).toBe(', 42 rows a second, about 2 min left');
  });

  it('leaves out what came out of the store', () => {
    const reused = [2, 3, 4, 5, 6].map((n) => [2, patient('reused', n)] as const);
    expect(said([0, START], [2, patient('done', 1)], ...reused)).toBe(', 250 rows a second, about 10 s left');
  });

  it('is not told in the first second, nor where nothing was read', () => {
    expect(said([0, START], [0.9, patient('done', 1)])).toBe('');
    expect(said([0, START], [9, patient('reused', 1)])).toBe('');
  });

  it('tells of no time left at the end', () => {
    const all: RunEvent = { event: 'start', pass: 1, patients: 1, bytes: 1000 };
    expect(said([0, all], [2, patient('done', 1)])).toBe(', 250 rows a second');
  });
});
