import { spawn } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { cistern, MAIN } from '../support/cistern.js';
import { storedIn, unitOf } from '../support/unit.js';

/** A run that gets a signal once it has told of a patient. */
function interrupted(
  cwd: string,
  signal: NodeJS.Signals,
  ...more: readonly string[]
): Promise<{ status: number | null; signal: NodeJS.Signals | null; stdout: string; stderr: string }> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [MAIN, 'run', 'unit.yaml', '--out', 'report', ...more], { cwd });
    const said = { stdout: '', stderr: '' };
    let isSent = false;
    child.stdout.on('data', (text) => {
      said.stdout += text;
    });
    child.stderr.on('data', (text) => {
      said.stderr += text;
      if (
        !isSent &&
        /patient/.test(
          said.stderr
            .split('\n')
            .slice(more.includes('--json-log') ? 1 : 0)
            .join(''),
        )
      )
        isSent = child.kill(signal);
    });
    child.once('error', reject);
    child.once('close', (status, by) => resolve({ status, signal: by, ...said }));
  });
}

const lastLine = (text: string): string => text.trimEnd().split('\n').at(-1) ?? '';

describe('a run that is interrupted', () => {
  it.each([
    ['SIGINT', '1'],
    ['SIGINT', '2'],
    ['SIGTERM', '2'],
  ] as const)(
    'by %s, on %s threads, exits 130, says what is kept, and goes on from there',
    async (signal, threads) => {
      const folder = unitOf(8);
      const { status, stdout, stderr } = await interrupted(folder, signal, '--threads', threads);
      expect([status, stdout]).toEqual([130, '']);
      const [, kept] =
        /^cistern: interrupted; nothing was written\. (\d) of 8 patients (?:is|are) kept; run the same command again to go on\.$/.exec(
          lastLine(stderr),
        ) ?? [];
      expect(Number(kept), stderr).toBeGreaterThan(0);
      expect(Number(kept)).toBeLessThan(8);
      expect(storedIn(folder).length).toBeGreaterThanOrEqual(Number(kept));
      expect(readdirSync(folder).sort()).toEqual(['.report.store', 'exports', 'unit.yaml']);
      const again = cistern(['run', 'unit.yaml', '--out', 'report', '--threads', threads], { cwd: folder });
      expect(again.status).toBe(0);
      const [, reused] = /(\d) as (?:it was|they were) stored/.exec(again.stdout) ?? [];
      expect(Number(reused)).toBeGreaterThanOrEqual(Number(kept));
    },
  );

  it('tells machines the same', async () => {
    const folder = unitOf(8);
    const { status, stderr } = await interrupted(folder, 'SIGINT', '--threads', '2', '--json-log');
    expect(status).toBe(130);
    const events = stderr
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(events[0]).toMatchObject({ event: 'start', patients: 8 });
    expect(events[1]).toMatchObject({ event: 'done', rows: 721, finished: 1, of: 8 });
    const last = events.at(-1);
    expect(last).toMatchObject({ event: 'interrupted', of: 8 });
    expect(last.kept).toBeGreaterThan(0);
    expect(last.text).toMatch(/^interrupted; nothing was written\. /);
    expect(existsSync(join(folder, 'report'))).toBe(false);
  });
});

describe('--json-log', () => {
  const events = (...more: readonly string[]) => {
    const folder = unitOf(2);
    const { status, stderr } = cistern(
      ['run', 'unit.yaml', '--out', 'report', '--no-pages', '--threads', '1', '--json-log', ...more],
      { cwd: folder },
    );
    return {
      status,
      events: stderr
        .trimEnd()
        .split('\n')
        .map((line) => JSON.parse(line)),
    };
  };

  it('tells of the start, each patient and the end', () => {
    const told = events();
    expect(told.status).toBe(0);
    expect(told.events).toMatchObject([
      { event: 'start', pass: 1, patients: 2 },
      { event: 'done', patient: '1', rows: 721, finished: 1, kept: 1, of: 2 },
      { event: 'done', patient: '2', rows: 721, finished: 2, kept: 2, of: 2 },
      { event: 'written', done: 2, reused: 0, failed: 0 },
    ]);
  });

  it('tells why a run was refused', () => {
    const told = events('--set', 'expected=[]', '--data', 'nowhere');
    expect(told.status).toBe(2);
    expect(told.events).toMatchObject([
      {
        event: 'refused',
        text: 'there is no file or folder nowhere. Look at exports in the pipeline file, or at --data.',
      },
    ]);
  });
});
