import { spawnSync } from 'node:child_process';

/** Debian's python3 carries Debian's numpy and scipy; another python on the path may not. */
const CANDIDATES = ['/usr/bin/python3', 'python3'];

function findPython(): string {
  const found = CANDIDATES.find(
    (python) => spawnSync(python, ['-c', 'import numpy, scipy.stats']).status === 0,
  );
  if (found) return found;
  throw new Error(
    'No python3 with numpy and scipy is here, and the outside checks need them: run "npm run verify", which installs them on Debian, or install python3-numpy and python3-scipy by hand.',
  );
}

/** Runs a Python script with numpy and scipy; it reads JSON from standard input and prints JSON. */
export function runPython<T>(script: string, input: unknown): T {
  const { status, stdout, stderr } = spawnSync(findPython(), ['-c', script], {
    input: JSON.stringify(input),
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  if (status !== 0) throw new Error(`python3 failed: ${stderr}`);
  return JSON.parse(stdout) as T;
}
