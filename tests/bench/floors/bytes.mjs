/** bytes.mjs EXPORTS: reads every byte and counts line feeds. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const exports = process.argv[2];
let lines = 0;
for (const name of readdirSync(exports)) {
  const bytes = readFileSync(join(exports, name));
  for (let i = 0; i < bytes.length; i++) if (bytes[i] === 10) lines++;
}
console.log(lines);
