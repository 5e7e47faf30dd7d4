/** Writes the inputs of the golden cases anew, seeded: `npx tsx tests/golden/generate.ts`. Expected reports stay. */
import { mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { CASES } from './make/cases.js';

const FOLDER = new URL('cases/', import.meta.url).pathname;

for (const [name, files] of Object.entries(CASES)) {
  const folder = join(FOLDER, name);
  mkdirSync(folder, { recursive: true });
  for (const entry of readdirSync(folder))
    if (entry !== 'expected') rmSync(join(folder, entry), { recursive: true });
  for (const [path, content] of Object.entries(files())) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), content);
  }
}
