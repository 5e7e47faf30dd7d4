import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { cistern, newFolder } from '../support/cistern.js';
import { hooked } from '../support/hooked.js';
import { unitOf } from '../support/unit.js';

/** Environment under which every thread writes down that it loads the drawing code, and that it runs at all. */
function noting(): { env: Record<string, string>; noted: () => string[] } {
  const notes = join(newFolder(), 'notes');
  writeFileSync(notes, '');
  const loader = `export async function resolve(specifier, context, next) {
  if (/^vega|render\\.js$|worker\\.js$/.test(specifier)) {
    const { appendFileSync } = await import('node:fs');
    appendFileSync(${JSON.stringify(notes)}, specifier.split('/').at(-1) + '\\n');
  }
  return next(specifier, context);
}`;
  const url = `data:text/javascript,${encodeURIComponent(loader)}`;
  const code = `const { register } = await import('node:module'); register(${JSON.stringify(url)});`;
  return {
    env: hooked(code),
    noted: () => [...new Set(readFileSync(notes, 'utf8').trimEnd().split('\n'))].sort(),
  };
}

it.each([
  ['1', []],
  ['2', ['worker.js']],
])(
  'the drawing code is loaded for pages alone, and not for those that are stored (%s threads)',
  (threads, always) => {
    const folder = unitOf(3);
    const loadedBy = (...more: readonly string[]): string[] => {
      const { env, noted } = noting();
      const args = ['run', 'unit.yaml', '--out', 'report', '--threads', threads, ...more];
      expect(cistern(args, { cwd: folder, env }).status).toBe(0);
      return noted().filter((name) => name !== '');
    };
    expect(loadedBy('--no-pages')).toEqual(always);
    const drawing = loadedBy();
    expect(drawing).toEqual(expect.arrayContaining(['render.js', 'vega', 'vega-lite', ...always]));
    expect(loadedBy()).toEqual(always);
  },
);
