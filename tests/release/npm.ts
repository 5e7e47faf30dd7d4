import { spawnSync } from 'node:child_process';

/** What a run of npm or of another program gave. */
export interface Outcome {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** The environment without what npm tells the scripts that it runs: settings of one run must not reach into another. */
const plainEnvironment = (): NodeJS.ProcessEnv =>
  Object.fromEntries(Object.entries(process.env).filter(([key]) => !/^npm_/i.test(key)));

/** Runs `npm` or `npx` in a folder, without looking for a newer npm. */
export function npm(command: 'npm' | 'npx', args: readonly string[], cwd: string): Outcome {
  return spawnSync(command, args, {
    cwd,
    env: { ...plainEnvironment(), npm_config_update_notifier: 'false' },
    encoding: 'utf8',
    // npm pack lists each file.
    maxBuffer: 1 << 26,
    // On Windows both are scripts of the shell.
    shell: process.platform === 'win32',
  });
}
