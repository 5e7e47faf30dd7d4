import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { generateDemoUnit } from '../../fixtures/generator/demo-unit.js';
import { generatePerfusionUnit } from '../../fixtures/generator/perfusion/perfusion-unit.js';
import { cistern, newFolder, ROOT } from '../support/cistern.js';
import { differences } from '../support/compare-folders.js';

const DEMO = join(ROOT, 'reports/demo');
/** Not tracked: what came out instead, for review. */
const DIFFERENT = join(ROOT, 'reports/demo-differences');

describe('the demo', () => {
  it('is generated as it is committed', () => {
    const { files, logs, truth } = generateDemoUnit();
    for (const { name, text } of files) {
      const stored = readFileSync(join(ROOT, 'fixtures/demo-unit/exports', name));
      expect((name.endsWith('.gz') ? gunzipSync(stored) : stored).toString('utf8') === text, name).toBe(true);
    }
    for (const { name, text } of logs) {
      expect(readFileSync(join(ROOT, 'fixtures/demo-unit', name), 'utf8') === text, name).toBe(true);
    }
    const committed = readFileSync(join(ROOT, 'fixtures/demo-unit/truth.json'), 'utf8');
    expect(committed).toBe(`${JSON.stringify(truth, null, 2)}\n`);
  });

  it.each([
    { threads: '1', TZ: 'UTC' },
    { threads: '2', TZ: 'Pacific/Chatham' },
  ])(
    'comes out byte for byte with $threads threads in TZ $TZ (see reports/demo-differences if not)',
    ({ threads, TZ }) => {
      const out = join(newFolder(), 'demo');
      const { status, stderr } = cistern(['run', 'demo', '--out', out, '--threads', threads], {
        env: { TZ },
      });
      expect(stderr).toBe('');
      expect(status).toBe(0);
      expect(differences(out, DEMO, DIFFERENT)).toEqual([]);
    },
  );

  it('of perfusion is generated as it is committed', () => {
    const { files, careLog, targets, truth } = generatePerfusionUnit();
    const stored = (name: string): Buffer => readFileSync(join(ROOT, 'fixtures/perfusion-unit', name));
    for (const { name, text } of files) {
      expect(gunzipSync(stored(`exports/${name}`)).toString('utf8') === text, name).toBe(true);
    }
    expect(stored('care-log.csv').toString()).toBe(careLog);
    expect(stored('cpp-targets.csv').toString()).toBe(targets);
    expect(stored('truth.json').toString()).toBe(`${JSON.stringify(truth, null, 2)}\n`);
  });

  it.each([
    { threads: '1', TZ: 'UTC' },
    { threads: '2', TZ: 'Pacific/Chatham' },
  ])('of perfusion comes out byte for byte with $threads threads in TZ $TZ', ({ threads, TZ }) => {
    const out = join(newFolder(), 'perfusion');
    const { status, stderr } = cistern(['run', 'demo-perfusion', '--out', out, '--threads', threads], {
      env: { TZ },
    });
    expect(stderr).toBe('');
    expect(status).toBe(0);
    expect(differences(out, join(DEMO, 'perfusion'), DIFFERENT)).toEqual([]);
  });

  it('of the alarm audit comes out byte for byte with 2 threads in TZ Pacific/Chatham', () => {
    const out = join(newFolder(), 'audit');
    const { status, stderr } = cistern(['run', 'demo-alarm-audit', '--out', out, '--threads', '2'], {
      env: { TZ: 'Pacific/Chatham' },
    });
    expect(stderr).toBe('');
    expect(status).toBe(0);
    expect(differences(out, join(DEMO, 'audit'), DIFFERENT)).toEqual([]);
  });

  it('of the outcome study comes out byte for byte with 2 threads in TZ Pacific/Chatham', () => {
    const out = join(newFolder(), 'study');
    const { status, stderr } = cistern(['run', 'demo-outcome-study', '--out', out, '--threads', '2'], {
      env: { TZ: 'Pacific/Chatham' },
    });
    expect(stderr).toBe(
      'cistern: cohort.csv: It names 3 patients of whom there is no export: "610" (1 row), "634" (1 row) and "662" (1 row).\n',
    );
    expect(status).toBe(0);
    expect(differences(out, join(DEMO, 'study'), DIFFERENT)).toEqual([]);
  });
});
