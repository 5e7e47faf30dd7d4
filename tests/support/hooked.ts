import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { newFolder } from './cistern.js';

/**
 * Environment under which a run first executes some code, in the main thread and in each worker, which may replace
 * functions of `fs`, `promises` (fs/promises) and `threads` (worker_threads); `isMainThread` tells where it runs.
 */
export function hooked(code: string): Record<string, string> {
  const hook = join(newFolder(), 'hook.mjs');
  writeFileSync(
    hook,
    `import fs from 'node:fs';
import promises from 'node:fs/promises';
import { syncBuiltinESMExports } from 'node:module';
import threads, { isMainThread } from 'node:worker_threads';
const fault = (code, syscall) => Object.assign(new Error(code + ': a fault'), { code, syscall });
${code}
syncBuiltinESMExports();
`,
  );
  return { NODE_OPTIONS: `--import=${pathToFileURL(hook).href}` };
}

/** Code for `hooked`: something happens in a worker thread once it opens a file whose name fits. */
export const onOpening = (name: RegExp, what: string): string => `
const { createReadStream } = fs;
fs.createReadStream = (path, ...rest) => {
  if (!isMainThread && ${name}.test(String(path))) { ${what} }
  return createReadStream(path, ...rest);
};`;

/** Code for `hooked`: writing a file whose path fits fails with an error of the system. */
export const failWriting = (path: RegExp, code: string): string => `
const { writeFile } = promises;
promises.writeFile = async (path, ...rest) => {
  if (${path}.test(String(path))) throw fault('${code}', 'write');
  return writeFile(path, ...rest);
};`;
