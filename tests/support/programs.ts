import { chmodSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { newFolder } from './cistern.js';

/** Writes a shell script that stands for another program, and gives its path. */
export function script(lines: string): string {
  const path = join(newFolder(), 'program');
  writeFileSync(path, `#!/bin/sh\n${lines}\n`);
  chmodSync(path, 0o755);
  return path;
}

/** A program that never ends, and starts another that never does; `pids` gives both of each time it was started. */
export function hangingProgram(): { path: string; pids: () => number[] } {
  const list = join(newFolder(), 'pids');
  return {
    path: script(`sleep 600 & echo "$$ $!" >> '${list}'; wait`),
    pids: () => (existsSync(list) ? readFileSync(list, 'utf8').trim().split(/\s+/).map(Number) : []),
  };
}

/** True while a process runs; one that has ended and waits to be asked for its status does not. Linux only. */
export function isRunning(pid: number): boolean {
  try {
    return !/\) Z /.test(readFileSync(`/proc/${pid}/stat`, 'utf8'));
  } catch {
    return false;
  }
}
