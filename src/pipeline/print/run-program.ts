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

/** The last line of what a program complained of, without the process and the time that some write before it. */
function lastLine(text: string): string {
  const line = text.trimEnd().split('\n').at(-1) ?? '';
  return shorten(line.replace(/^\[[^\]]*\]\s*/, ''), 160).replace(/\.$/, '');
}

/**
 * Runs a program to its end, and kills it with what it has started where it takes too long or the run is interrupted.
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
      clearTimeout(limit);
      signal?.removeEventListener('abort', interrupt);
      child.stderr.destroy();
      const word = lastLine(said);
      done(stopped ?? (why === null || word === '' ? why : `${why}: ${word}`));
    };
    const ended = (status: number | null, by: NodeJS.Signals | null): string | null =>
      status === 0
        ? null
        : by === null
          ? `the program ended with status ${status}`
          : `the program was ended by ${by}`;
    child.stderr.on('data', (text) => {
      said = (said + text).slice(-4096);
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
