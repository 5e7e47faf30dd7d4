import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { ROOT } from '../support/cistern.js';
import { type MeasuredPlan, planPage } from './plan-page.js';

const textOf = (path: string): string => readFileSync(join(ROOT, path), 'utf8');
const measured = (): MeasuredPlan => JSON.parse(textOf('tests/bench/plan.json'));

it('the page for planning on a cluster holds what follows from the measured figures', () => {
  const parts = textOf('pipelines/cluster/README.md').split(/<!-- measured -->\n|<!-- end -->\n/);
  expect(parts).toHaveLength(3);
  expect(parts[1]).toBe(planPage(measured()));
});

it('the measured figures are there, and can have been measured', () => {
  const { machine, kinds, mergeKbAStay } = measured();
  expect(machine).toMatch(/Node \d+\./);
  expect(kinds.map(({ samplesPerSecond }) => samplesPerSecond)).toEqual([1, 125]);
  expect(mergeKbAStay).toBeGreaterThan(0);
  for (const one of kinds) {
    expect(one.rows).toBe(one.stays * one.hours * 3600 * one.samplesPerSecond);
    // A row has a time and two pressures.
    expect(one.bytes / one.rows).toBeGreaterThan(20);
    expect(one.startSeconds).toBeGreaterThan(0);
    expect(one.shardSeconds).toBeGreaterThan(one.startSeconds);
    expect(one.shardSecondsWithPages).toBeGreaterThan(one.shardSeconds);
    for (const value of [one.mergeSeconds, one.shardMb, one.mergeMb, one.storeBytes])
      expect(value).toBeGreaterThan(0);
  }
});
