import { describe, expect, it } from 'vitest';
import type { Mark } from '../../src/clean/rule.js';
import { trustIn } from '../../src/summarize/trust.js';
import { seconds } from '../support/shapes.js';

const NIGHT = seconds(0, 12 * 3600);
const suspect = (rule: string, direction: 'up' | 'down', from: number, to: number): Mark => ({
  channel: 'icp',
  rule,
  grade: 'suspect',
  direction,
  ...seconds(from, to),
});
const removed = (from: number, to: number): Mark => ({
  channel: 'icp',
  rule: 'zeroing',
  grade: 'removed',
  ...seconds(from, to),
});

describe('the trust in a night', () => {
  it('stands where all is known and nothing suspect', () => {
    expect(trustIn([], 12, NIGHT)).toEqual({ knownShare: 1, suspectHours: 0, suspect: [], cannotSay: [] });
  });
  it('is gone where less than half is known, and stands at exactly half', () => {
    expect(trustIn([], 6, NIGHT).cannotSay).toEqual([]);
    expect(trustIn([], 5.999, NIGHT).cannotSay).toEqual(['littleKnown']);
  });
  it('is gone from 30 min suspect on, and stands at 29 min 59 s', () => {
    expect(trustIn([suspect('negative', 'down', 0, 1800)], 12, NIGHT).cannotSay).toEqual(['longSuspect']);
    expect(trustIn([suspect('negative', 'down', 0, 1799)], 12, NIGHT).cannotSay).toEqual([]);
  });
  it('adds up several suspect stretches, upward ones too', () => {
    const marks = [suspect('negative', 'down', 0, 900), suspect('step', 'up', 3600, 4500)];
    const { suspectHours, cannotSay, suspect: stretches } = trustIn(marks, 12, NIGHT);
    expect(suspectHours).toBe(0.5);
    expect(cannotSay).toEqual(['longSuspect']);
    expect(stretches.map(({ direction }) => direction)).toEqual(['down', 'up']);
  });
  it('tells stretches that overlap as one, counted once, with the rules that saw it', () => {
    const marks = [suspect('step', 'down', 0, 600), suspect('negative', 'down', 300, 900)];
    expect(trustIn(marks, 12, NIGHT).suspect).toEqual([
      { ...seconds(0, 900), rules: ['step', 'negative'], decidedBy: [], direction: 'down' },
    ]);
  });
  it('tells apart what is left out and what stays in; where both were seen it is left out', () => {
    const marks = [suspect('damped', 'up', 0, 9000), suspect('negative', 'down', 3000, 3600)];
    expect(trustIn(marks, 12, NIGHT).suspect).toEqual([
      { ...seconds(0, 3000), rules: ['damped'], decidedBy: [], direction: 'up' },
      { ...seconds(3000, 3600), rules: ['negative'], decidedBy: [], direction: 'down' },
      { ...seconds(3600, 9000), rules: ['damped'], decidedBy: [], direction: 'up' },
    ]);
  });
  it('names who called a stretch suspect', () => {
    const reviewed = { ...suspect('reviewed', 'up', 0, 600), decidedBy: 'AB' };
    expect(trustIn([reviewed], 12, NIGHT).suspect[0]).toMatchObject({
      rules: ['reviewed'],
      decidedBy: ['AB'],
    });
  });
  it('counts only what lies in the period and was not removed anyway', () => {
    const marks = [suspect('negative', 'down', -600, 1500), removed(300, 901)];
    const { suspect: stretches, suspectHours } = trustIn(marks, 12, NIGHT);
    expect(stretches.map(({ start, end }) => ({ start, end }))).toEqual([
      seconds(0, 300),
      seconds(901, 1500),
    ]);
    expect(suspectHours).toBeCloseTo((300 + 599) / 3600, 12);
  });
  it('tells a stretch with removed coughs in it as one, and does not count them', () => {
    const marks = [suspect('drift', 'up', 0, 7200), removed(1000, 1010), removed(2000, 2600)];
    const { suspect: stretches, suspectHours } = trustIn(marks, 12, NIGHT);
    expect(stretches.map(({ start, end }) => ({ start, end }))).toEqual([seconds(0, 7200)]);
    expect(suspectHours).toBeCloseTo((7200 - 610) / 3600, 12);
  });
  it('is silent where all that was suspect was removed anyway', () => {
    const marks = [suspect('negative', 'down', 100, 200), removed(0, 600)];
    expect(trustIn(marks, 12, NIGHT)).toMatchObject({ suspect: [], suspectHours: 0 });
  });
  it('is a matter of ICP alone: a suspect MAP does not touch it', () => {
    const draw: Mark = { ...suspect('draw', 'down', 0, 7200), channel: 'map' };
    expect(trustIn([draw], 12, NIGHT)).toMatchObject({ suspectHours: 0, cannotSay: [] });
  });
  it('can be gone for both reasons', () => {
    expect(trustIn([suspect('negative', 'down', 0, 3600)], 1, NIGHT).cannotSay).toEqual([
      'littleKnown',
      'longSuspect',
    ]);
  });
});
