/**
 * `npm run release`: writes the tarball of a release, everything inside, and says how large it is.
 * Options: --out DIR (the project's folder where nothing is said), --uncommitted for a trial.
 */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { Problem } from '../../src/recording/problem.js';
import { makeRelease } from '../release/make-release.js';

const root = fileURLToPath(new URL('../..', import.meta.url));
const { values } = parseArgs({
  options: { out: { type: 'string', default: root }, uncommitted: { type: 'boolean', default: false } },
});

try {
  const path = makeRelease({ root, into: resolve(values.out), uncommitted: values.uncommitted });
  const bytes = readFileSync(path);
  console.log(`${relative(process.cwd(), path)}: ${(bytes.length / 1e6).toFixed(1)} MB`);
  console.log(`SHA-256 ${createHash('sha256').update(bytes).digest('hex')}`);
} catch (error) {
  if (!(error instanceof Problem)) throw error;
  console.error(`release: ${error.message}`);
  process.exitCode = 2;
}
