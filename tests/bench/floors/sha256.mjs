/** sha256.mjs EXPORTS: SHA-256 of every file. */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const exports = process.argv[2];
for (const name of readdirSync(exports)) {
  console.log(
    createHash('sha256')
      .update(readFileSync(join(exports, name)))
      .digest('hex'),
    name,
  );
}
