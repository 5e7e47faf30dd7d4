import { type ChildProcess, spawn } from 'node:child_process';
import { shorten } from '../../recording/problem.js';

/** How a program is run. */
export interface ProgramOptions {
  readonly limitMs: number;
  readonly signal?: AbortSignal | undefined;
  readonly env?: NodeJS.ProcessEnv | undefined;
}

/** So long after its end a program may still be heard. */
const LAST_WORDS_MS = 500;

/** With a group of its own, a program takes along what it has started. */
const HAS_GROUPS = process.platform !== 'win32';

function kill(child: ChildProcess): void {
  try {
    if (HAS_GROUPS && child.pid !== undefined) process.kill(-child.pid, 'SIGKILL');
    else child.kill('SIGKILL');
  } catch {
    // It has just ended by itself.
  }
}

/** So much of what a program complained of is kept, characters. */
const MOST_SAID = 65_536;

/**
 * What a program complained of last, without the process and the time that some write before it. Chromium calls what
 * it dies of FATAL, and what it leaves behind may go on complaining.
 */
function lastComplaint(text: string): string {
  const lines = text.trimEnd().split('\n');
  const line = lines.findLast((one) => /^\[[^\]]*\bFATAL\b/.test(one)) ?? lines[lines.length - 1];
  return shorten(line.replace(/^\[[^\]]*\]\s*/, ''), 160).replace(/\.$/, '');
}

/**
 * Runs a program to its end, or kills it where it takes too long or the run is interrupted. What it has started is
 * ended with it.
 *
 * @returns null where it ended well, otherwise why not, as the end of a sentence
 */
export function runProgram(
  program: string,
  options: readonly string[],
  { limitMs, signal, env }: ProgramOptions,
): Promise<string | null> {
  return new Promise((done) => {
    let said = '';
    let stopped: string | null = null;
    const child = spawn(program, options, { stdio: ['ignore', 'ignore', 'pipe'], detached: HAS_GROUPS, env });
    const stop = (why: string): void => {
      stopped ??= why;
      kill(child);
    };
    const interrupt = (): void => stop('the run was interrupted');
    const limit = setTimeout(() => stop(`it took over ${limitMs / 1000} s`), limitMs);
    const finish = (why: string | null): void => {
      // What it started and left behind would run on for ever.
      kill(child);
      clearTimeout(limit);
      signal?.removeEventListener('abort', interrupt);
      child.stderr.destroy();
      const word = lastComplaint(said);
      done(stopped ?? (why === null || word === '' ? why : `${why}: ${word}`));
    };
    const ended = (status: number | null, by: NodeJS.Signals | null): string | null =>
      status === 0
        ? null
        : by === null
          ? `the program ended with status ${status}`
          : `the program was ended by ${by}`;
    child.stderr.on('data', (text) => {
      said = (said + text).slice(-MOST_SAID);
    });
    child.once('error', (error: NodeJS.ErrnoException) =>
      finish(`the program cannot be started (${error.code})`),
    );
    // What it has started may hold the pipe open for longer.
    child.once('exit', (...how) => setTimeout(() => finish(ended(...how)), LAST_WORDS_MS));
    child.once('close', (...how) => finish(ended(...how)));
    signal?.addEventListener('abort', interrupt);
    if (signal?.aborted) interrupt();
  });
}
