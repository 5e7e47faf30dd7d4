import { existsSync, mkdirSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { cistern } from '../support/cistern.js';
import { hooked } from '../support/hooked.js';
import { unitOf } from '../support/unit.js';

const HOUR_MS = 3_600_000;

/** Code for `hooked`: the machine's clock is apart from that of its files, and another run stores a result meanwhile. */
const apart = (ms: number, stored: string): string => `
const Real = Date;
globalThis.Date = class extends Real {
  constructor(...given) { super(...(given.length > 0 ? given : [Real.now() + ${ms}])); }
  static now() { return Real.now() + ${ms}; }
};
const { rename } = promises;
promises.rename = async (from, to) => {
  if (/\\.new$/.test(from)) fs.writeFileSync(${JSON.stringify(stored)}, 'stored meanwhile');
  return rename(from, to);
};`;

it.each([
  ['ahead', HOUR_MS],
  ['behind', -HOUR_MS],
])(
  'a run whose clock is %s forgets what was stored before it, and not what another stores meanwhile',
  (_, ms) => {
    const folder = unitOf(1);
    const entry = (digit: string): string => join(folder, '.report.store', `${digit.repeat(64)}.result`);
    mkdirSync(join(folder, '.report.store'));
    writeFileSync(entry('a'), 'stored before');
    const before = (Date.now() - 60_000) / 1000;
    utimesSync(entry('a'), before, before);
    const args = ['run', 'unit.yaml', '--out', 'report', '--no-pages', '--threads', '1'];
    const { status, stderr } = cistern(args, { cwd: folder, env: hooked(apart(ms, entry('b'))) });
    expect([status, stderr]).toEqual([0, '']);
    expect([existsSync(entry('a')), existsSync(entry('b'))]).toEqual([false, true]);
  },
);
