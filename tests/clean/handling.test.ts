import { describe, expect, it } from 'vitest';
import { handling } from '../../src/clean/handling.js';
import type { CareEntry, CareKind } from '../../src/recording/care.js';
import { recordingOf } from '../support/recordings.js';
import { findWith, levels, spansOf } from '../support/rules.js';
import { everySeconds, T0 } from '../support/signals.js';

const entry = (second: number, ...kinds: CareKind[]): CareEntry => ({
  start: T0 + second * 1000,
  end: null,
  kinds,
  angleDegrees: null,
});
const QUIET = [900, 12] as const;
const handled = (values: readonly number[], care: readonly CareEntry[] | undefined, interval = 1) =>
  findWith(handling, { ...recordingOf({ icp: everySeconds(interval, values) }), care });
/** A turn that lasts two and a half minutes. */
const TURN = levels(QUIET, [20, (k) => 12 + k], [110, 32], [20, (k) => 32 - k], QUIET);

describe('handling that the care log tells of', () => {
  it.each(['turn', 'suction'] as const)('takes an excursion of up to 3 min beside a logged %s', (kind) => {
    const { marks } = handled(TURN, [entry(880, kind)]);
    expect(marks).toMatchObject([
      { rule: 'handling', grade: 'removed', evidence: { care: { kind, at: T0 + 880_000 } } },
    ]);
    const [[from, to]] = spansOf(marks);
    expect(from).toBeLessThan(905);
    expect(to).toBeGreaterThan(1044);
  });
  it('begins between 2 min before and 10 min after the entry', () => {
    expect(handled(TURN, [entry(1015, 'turn')]).marks).toHaveLength(1);
    expect(handled(TURN, [entry(1030, 'turn')]).marks).toEqual([]);
    expect(handled(TURN, [entry(310, 'turn')]).marks).toHaveLength(1);
    expect(handled(TURN, [entry(290, 'turn')]).marks).toEqual([]);
  });
  it('takes an end in the entry for the end of the deed, where that is soon; a position is held for hours', () => {
    const until = (start: number, end: number) => [{ ...entry(start, 'turn'), end: T0 + end * 1000 }];
    expect(handled(TURN, until(100, 910)).marks).toHaveLength(1);
    expect(handled(TURN, until(100, 890)).marks).toEqual([]);
    expect(handled([...levels([4000, 12]), ...TURN], until(0, 6000)).marks).toEqual([]);
  });
  it('leaves a longer rise whole, and one that stays', () => {
    expect(handled(levels(QUIET, [240, 32], QUIET), [entry(880, 'turn')]).marks).toEqual([]);
    expect(handled(levels(QUIET, [900, 32]), [entry(880, 'turn')]).marks).toEqual([]);
  });
  it('takes nothing without an entry, or without a log', () => {
    expect(handled(TURN, [])).toEqual({ marks: [], stoodAside: [] });
    expect(handled(TURN, undefined)).toEqual({ marks: [], stoodAside: [] });
    expect(handled(TURN, [entry(880, 'treatment'), entry(880, 'travel')]).marks).toEqual([]);
  });
  it('takes a logged zeroing from a pressure so low that its step alone would not show it', () => {
    const { marks } = handled(levels([900, 3], [60, 0.2], [900, 3]), [entry(890, 'zeroing')]);
    expect(spansOf(marks)).toEqual([[900, 959]]);
  });
  it('works at a sample a minute, not beyond', () => {
    expect(handled(levels([30, 12], [2, 30], [30, 12]), [entry(1790, 'turn')], 60).marks).toHaveLength(1);
    expect(handled(levels([30, 12]), [entry(1790, 'turn')], 120).stoodAside).toEqual([
      'ICP comes every 120 s; the rule needs 60 s or finer',
    ]);
  });
});
