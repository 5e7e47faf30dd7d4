import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { programIdentity } from '../../src/pipeline/program-identity.js';
import { folderWith } from '../support/cistern.js';

it('changes with the code and the libraries, and with nothing else', async () => {
  const folder = folderWith({
    'package.json': '{}',
    'dist/main.js': 'a',
    'dist/report/page.js': 'b',
    'README.md': 'c',
  });
  const identity = (): Promise<string> => programIdentity(folder, join(folder, 'dist'));
  const seen = [await identity()];
  const write = async (name: string, text: string): Promise<string> => {
    writeFileSync(join(folder, name), text);
    return identity();
  };
  expect(await write('README.md', 'd')).toBe(seen[0]);
  expect(await write('dist/main.js.map', '{}')).toBe(seen[0]);
  expect(await write('dist/main.d.ts', 'e')).toBe(seen[0]);
  seen.push(await write('dist/report/page.js', 'c'));
  seen.push(await write('dist/more.js', ''));
  seen.push(await write('package.json', '{"dependencies": {}}'));
  seen.push(await write('package-lock.json', '{}'));
  expect(new Set(seen).size).toBe(seen.length);
  rmSync(join(folder, 'package-lock.json'));
  expect(await identity()).toBe(seen[3]);
});

it('of this program is the same twice', async () => {
  expect(await programIdentity()).toBe(await programIdentity());
});
