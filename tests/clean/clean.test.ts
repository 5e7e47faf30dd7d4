import { describe, expect, it } from 'vitest';
import { type CleanSettings, clean, cleanedSignal, leftOut } from '../../src/clean/clean.js';
import type { Mark } from '../../src/clean/rule.js';
import { RULES } from '../../src/clean/rules.js';
import { knownIntervals } from '../../src/recording/signal.js';
import { recordingOf } from '../support/recordings.js';
import { levels } from '../support/rules.js';
import { seconds } from '../support/shapes.js';
import { everySeconds } from '../support/signals.js';

const DEFAULTS: CleanSettings = Object.fromEntries(
  RULES.map(({ name, parameters }) => [name, parameters.parse({}) as object]),
);
/** Those that have something to look at in a recording without a waveform. */
const ruleNames = RULES.filter(({ needsWaveform }) => !needsWaveform).map(({ name }) => name);
const alive = (k: number) => 12 + (k % 3) / 10;
const beating = (k: number) => 85 + (k % 2);
/** Everything at once: an impossible value, a zeroing, a cough, a step, frozen values, a flush, a drop, blanks, negative ICP. */
const busy = recordingOf(
  {
    icp: everySeconds(
      1,
      levels(
        [600, alive],
        [1, 400],
        [300, alive],
        [60, 0.2],
        [300, alive],
        [6, 45],
        [300, alive],
        [30, Number.NaN],
        [300, alive],
        [900, -6],
        [600, 12],
      ),
    ),
    map: everySeconds(1, levels([600, beating], [20, 240], [600, beating], [60, 30], [2117, beating])),
  },
  { icp: [seconds(1566, 1597)] },
);

describe('cleaning', () => {
  const cleaning = clean(busy, DEFAULTS);
  it('finds each kind of artifact with its rule', () => {
    expect([...new Set(cleaning.marks.map(({ rule }) => rule))].sort()).toEqual([
      'briefSpike',
      'damped',
      'disconnected',
      'draw',
      'flatline',
      'flush',
      'negative',
      'outsideRange',
      'step',
      'zeroing',
    ]);
    expect(cleaning.rulesOn).toEqual(ruleNames);
    expect(cleaning.stoodAside).toEqual([]);
  });
  it('lists its marks by their start, and none ends before it starts', () => {
    const starts = cleaning.marks.map(({ start }) => start);
    expect(starts).toEqual([...starts].sort((a, b) => a - b));
    expect(cleaning.marks.every(({ start, end }) => start <= end)).toBe(true);
  });
  it('changes no value and no time of the recording', () => {
    const arraysOf = () =>
      Object.values(busy.channels).map(({ signal }) => [
        [...signal.times],
        [...signal.values],
        [...signal.known],
      ]);
    const before = arraysOf();
    clean(busy, DEFAULTS);
    cleanedSignal(busy, 'icp', cleaning);
    cleanedSignal(busy, 'map', cleaning, 'otherWay');
    expect(arraysOf()).toEqual(before);
  });
  it('hands over the same values, only fewer of them known', () => {
    const { signal } = busy.channels.icp!;
    const cleaned = cleanedSignal(busy, 'icp', cleaning);
    expect(cleaned.values).toBe(signal.values);
    expect(cleaned.times).toBe(signal.times);
    expect(cleaned.known.some((isKnown, i) => isKnown > signal.known[i])).toBe(false);
    expect(cleaned.known.some((isKnown, i) => isKnown < signal.known[i])).toBe(true);
  });
  it('runs only the rules that are on, and each as if it were alone', () => {
    for (const name of ruleNames) {
      const alone = clean(busy, { [name]: DEFAULTS[name] });
      expect(alone.rulesOn).toEqual([name]);
      expect(alone.marks).toEqual(cleaning.marks.filter(({ rule }) => rule === name));
    }
  });
  it('takes in what was seen in a waveform, under the rules that are on, and names rules for waveforms only there', () => {
    const seen = { channel: 'icp', ...seconds(100, 102) } as const;
    const waveform = {
      samplesPerSecond: 125,
      marks: [
        { ...seen, rule: 'transient' },
        { ...seen, rule: 'clippedWave', direction: 'up' },
        { ...seen, rule: 'frozenWave' },
      ],
    } as const;
    const recording = { ...busy, waveform };
    const { frozenWave: _, ...settings } = DEFAULTS;
    const { marks, rulesOn } = clean(recording, settings);
    expect(rulesOn).toEqual(RULES.map(({ name }) => name).filter((name) => name !== 'frozenWave'));
    expect(marks.filter(({ start }) => start === seen.start)).toEqual([
      { ...seen, rule: 'transient', grade: 'removed' },
      { ...seen, rule: 'clippedWave', grade: 'suspect', direction: 'up' },
    ]);
    expect(marks.length).toBe(cleaning.marks.length + 2);
  });
  it('marks nothing where every rule is off', () => {
    expect(clean(busy, {})).toEqual({ marks: [], rulesOn: [], stoodAside: [] });
  });
  it('says which rules stood aside on minute data, and why', () => {
    const rare = recordingOf({
      icp: everySeconds(60, levels([60, 12])),
      map: everySeconds(60, levels([60, 85])),
    });
    expect(clean(rare, DEFAULTS).stoodAside).toEqual([
      { rule: 'zeroing', why: 'ICP comes every 60 s; the rule needs 15 s or finer' },
      { rule: 'briefSpike', why: 'ICP comes every 60 s; the rule needs 20 s or finer' },
      { rule: 'coughTrain', why: 'ICP comes every 60 s; the rule needs 20 s or finer' },
      { rule: 'slowTurn', why: 'ICP comes every 60 s; the rule needs 20 s or finer' },
      { rule: 'flush', why: 'MAP comes every 60 s; the rule needs 15 s or finer' },
      { rule: 'draw', why: 'MAP comes every 60 s; the rule needs 15 s or finer' },
      { rule: 'step', why: 'ICP comes every 60 s; the rule needs 10 s or finer' },
      { rule: 'zeroShift', why: 'ICP comes every 60 s; the rule needs 15 s or finer' },
      { rule: 'damped', why: 'ICP comes every 60 s; the rule needs 15 s or finer' },
      { rule: 'transducerMoved', why: 'MAP comes every 60 s; the rule needs 10 s or finer' },
    ]);
  });
});

describe('the two readings of what is suspect', () => {
  const mark = (
    rule: string,
    grade: 'removed' | 'suspect',
    from: number,
    direction?: 'up' | 'down',
  ): Mark => ({
    channel: 'icp',
    rule,
    grade,
    direction,
    ...seconds(from, from + 9),
  });
  const marks = [
    mark('briefSpike', 'removed', 20),
    mark('negative', 'suspect', 40, 'down'),
    mark('step', 'suspect', 60, 'up'),
    { ...mark('flush', 'removed', 80), channel: 'map' as const },
  ];
  const recording = recordingOf({ icp: everySeconds(1, Array(101).fill(12)) });
  const cleaning = { marks, rulesOn: [], stoodAside: [] };

  it('leave out what was removed and, for the headline, what may read too low', () => {
    expect(leftOut(marks, 'icp', 'headline').map(({ rule }) => rule)).toEqual(['briefSpike', 'negative']);
  });
  it('leave out what was removed and, the other way, what may read too high', () => {
    expect(leftOut(marks, 'icp', 'otherWay').map(({ rule }) => rule)).toEqual(['briefSpike', 'step']);
  });
  it('are known where nothing was left out', () => {
    expect(knownIntervals(cleanedSignal(recording, 'icp', cleaning))).toEqual([
      seconds(0, 19),
      seconds(30, 39),
      seconds(50, 100),
    ]);
    expect(knownIntervals(cleanedSignal(recording, 'icp', cleaning, 'otherWay'))).toEqual([
      seconds(0, 19),
      seconds(30, 59),
      seconds(70, 100),
    ]);
  });
  it('can be had with one rule left out', () => {
    expect(knownIntervals(cleanedSignal(recording, 'icp', cleaning, 'headline', 'briefSpike'))).toEqual([
      seconds(0, 39),
      seconds(50, 100),
    ]);
  });
  it('of a channel that is not there are empty', () => {
    expect(cleanedSignal(recording, 'map', cleaning).times).toHaveLength(0);
  });
});
