import { spawnSync } from 'node:child_process';
import { Problem } from '../../src/recording/problem.js';

/**
 * Refuses to go on where what goes into a release is not what is committed: it would then be the release of no commit,
 * and could hold a file that nobody meant to give away.
 *
 * @param root the project's folder
 * @param paths below it, that go into the release
 * @throws Problem naming what differs
 */
export function refuseUncommitted(root: string, paths: readonly string[]): void {
  const { status, stdout, stderr } = spawnSync(
    'git',
    ['status', '--porcelain', '--untracked-files=all', '--ignored', '--', ...paths],
    { cwd: root, encoding: 'utf8' },
  );
  const fix = 'Commit it or take it away; "npm run release -- --uncommitted" makes a tarball for a trial';
  if (status !== 0) {
    const why = stderr?.trim().split('\n')[0] || 'git cannot be run';
    throw new Problem(`Nobody can say which commit this would be a release of (${why})`, fix);
  }
  const names = stdout
    .split('\n')
    .filter(Boolean)
    .map((line) => line.slice(3));
  if (names.length > 0) throw new Problem(`Not as committed: ${names.join(', ')}`, fix);
}
