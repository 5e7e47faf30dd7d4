import { describe, expect, it } from 'vitest';
import { optimalSentence, whyNothingRead } from '../../../src/report/optimal-words.js';
import { isForWantOfAngle } from '../../../src/report/perfusion/cannot-say.js';
import { notLevelledWords, unitLevels } from '../../../src/report/perfusion/levelling-words.js';
import { belowTargetWords, hasOwnTarget, whichIsWhich } from '../../../src/report/perfusion/own-target.js';
import { prxDoubt } from '../../../src/report/prx-doubt.js';
import { minuteIndexSentence, prxSentence } from '../../../src/report/reactivity-words.js';
import type { RecordingResult } from '../../../src/report/results-schema.js';
import { isNoBetterThanChance } from '../../../src/summarize/perfusion/chance-yield.js';
import { perfused, perfusionOf } from '../../support/perfusion.js';

describe('clocks that may be apart', () => {
  const lag = (more: object): RecordingResult['clockLag'] =>
    ({ isApart: true, lagSeconds: -59.8, ...more }) as RecordingResult['clockLag'];
  const { prx, minuteIndex } = perfusionOf();
  const of = (more: object, indices = { prx, minuteIndex }): string | null =>
    prxDoubt(lag(more), indices as never);

  it('leave PRx and all that rests on it without a verdict', () => {
    expect(of({})).toBe('PRx cannot be judged: the clocks of ICP and MAP may be apart by 1 min.');
    expect(of({ lagSeconds: 45 })).toMatch(/apart by 45 s\.$/);
  });

  it('say nothing where they are not apart, or there is no index', () => {
    expect(of({ isApart: false })).toBeNull();
    const none = { ...prx, mean: null };
    expect(of({}, { prx: none, minuteIndex: none })).toBeNull();
    expect(of({}, { prx: none, minuteIndex })).not.toBeNull();
  });

  it('put the figures of both indices in brackets', () => {
    const doubt = of({});
    expect(prxSentence(prx as never, 0.25, doubt)).toBe(
      `${doubt} As the clocks stand it comes to (−0.10) over 12 h (100 % of the period).`,
    );
    const minute = minuteIndexSentence(minuteIndex as never, doubt);
    expect(minute).toMatch(/^The low-frequency index from minute data cannot be judged: the clocks /);
    expect(minute).toMatch(/ \(0\.05\) over 12 h /);
  });
});

describe('optimal CPP', () => {
  const yields = (yieldShare: number | null, shuffledYieldShare: number | null) =>
    ({ yieldShare, shuffledYieldShare }) as never;

  it('cannot be read where chance finds as many curves, or a curve was hardly ever found', () => {
    expect(isNoBetterThanChance(yields(0.07, 0.16))).toBe(true);
    expect(whyNothingRead(yields(0.07, 0.16))).toBe(
      'A curve was found no more often than chance finds one (7 % against 16 %): nothing can be read from it.',
    );
    expect(isNoBetterThanChance(yields(0.2, 0.2))).toBe(true);
    // As printed, 13 % against 13 %.
    expect(isNoBetterThanChance(yields(0.134, 0.126))).toBe(true);
    expect(isNoBetterThanChance(yields(0.14, 0.13))).toBe(false);
    expect(isNoBetterThanChance(yields(0.09, 0.03))).toBe(true);
    expect(whyNothingRead(yields(0.09, 0.03))).toBe(
      'A curve was found at 9 % of the minutes only (chance finds one at 3 %): nothing can be read from it.',
    );
    expect(isNoBetterThanChance(yields(0.44, 0.22))).toBe(false);
    expect(isNoBetterThanChance(yields(null, null))).toBe(false);
  });

  it('is told as the mean of its windows, of how long it had a curve', () => {
    const optimal = {
      ...{ meanOptimalMmHg: 62.2, meanDifferenceMmHg: -0.8, hoursBelow: 4 + 1 / 60, minutesWithCurve: 574 },
      ...{ yieldShare: 0.44, shuffledYieldShare: 0.22 },
    };
    expect(optimalSentence(optimal as never)).toBe(
      'Optimal CPP (investigational), mean of the 4-h windows: 62 mmHg. CPP differed from it by −1 mmHg on average and was more than 5 mmHg below it for 4 h 1 min of the 9 h 34 min with a curve. A curve was found at 44 % of the minutes that had enough PRx in the 4 h before, against 22 % where arterial pressure was shuffled and has nothing to do with ICP.',
    );
    expect(optimalSentence({ ...optimal, hoursBelow: 0 } as never)).toMatch(
      /at no time more than 5 mmHg below it in the 9 h 34 min with a curve\./,
    );
  });
});

describe('the level of MAP on the page of a unit', () => {
  const levelled = (id: string, note: string | null, more: object = {}): RecordingResult =>
    perfused({
      id,
      rest: { levelling: { ...perfused().levelling, zeroedAt: 'heart', note, ...more } as never },
    });
  const plain = levelled('3', null, { zeroedAt: null, asZeroedNote: 'As zeroed.' });

  it('is told once where it is the same for all, else by patient', () => {
    const same = unitLevels([levelled('1', 'Down by 8.'), levelled('2', 'Down by 8.')]);
    expect([same.once, same.ofPatient(levelled('1', 'Down by 8.'))]).toEqual(['Down by 8.', '']);
    const each = unitLevels([levelled('1', 'Down by 8.'), levelled('2', 'Down by 11.')]);
    expect([each.once, each.ofPatient(levelled('2', 'Down by 11.'))]).toEqual(['', 'Down by 11.']);
  });

  it('is said plainly to be missing, with an example in mmHg', () => {
    // 28 cm x sin 30 degrees x 0.78 mmHg/cm = 10.9 mmHg.
    const words =
      'Not levelled: if the line was zeroed at the heart and the head was up, CPP at the ear was lower than shown (about 11 mmHg at 30 degrees and 28 cm).';
    expect(notLevelledWords(plain)).toBe(words);
    expect(unitLevels([plain]).once).toBe(words);
    expect(unitLevels([levelled('1', 'Down by 8.'), plain]).once).toMatch(/^Not levelled in 3: if the line/);
    expect(notLevelledWords(levelled('1', 'Down by 8.'))).toBeNull();
    expect(
      notLevelledWords(levelled('1', null, { zeroedAt: 'ear', asZeroedNote: 'At the ear.' })),
    ).toBeNull();
  });

  it('is told from other reasons for which CPP is not known, since PRx needs none', () => {
    const monitoredHours = { icp: 12, map: 12, cpp: 2 };
    const of = (unknownHours: number, more: object = {}): boolean =>
      isForWantOfAngle(perfused({ rest: { monitoredHours, levelling: { unknownHours } as never, ...more } }));
    expect(of(10)).toBe(true);
    expect(of(0)).toBe(false);
    expect(of(10, { cannotSay: ['longSuspect'] })).toBe(false);
  });
});

describe('a target that is not the floor', () => {
  const target = (start: string, belowMmHg: number, file: string | null) => ({
    ...{ start: `2031-02-11T${start}:00+01:00`, end: '2031-02-12T07:00:00+01:00' },
    ...{ belowMmHg, file, line: file === null ? null : 2 },
  });
  const of = (...targets: ReturnType<typeof target>[]): RecordingResult =>
    perfused({ rest: { lowCpp: { ...perfused().lowCpp, hours: 3.5, doseMmHgHours: 12.34, targets } } });

  it('is none where it is the floor throughout', () => {
    expect(hasOwnTarget(of(target('19:00', 60, null)))).toBe(false);
    expect(belowTargetWords(of(target('19:00', 60, 't.csv')))).toBe('');
    expect(whichIsWhich(of(target('19:00', 60, null)))).toBe('');
  });

  it('is told with its times, hours and dose', () => {
    const steps = of(target('19:00', 60, 't.csv'), target('07:00', 65, 't.csv'));
    expect(belowTargetWords(steps)).toBe(
      'CPP was below its target (60, from 07:00 on 65) for 3 h 30 min, dose 12.3 mmHg·h.',
    );
    expect(whichIsWhich(steps)).toBe(
      "60 mmHg is the floor of the unit (summarize.cppFloorMmHg), for hours, dose and both at once. The target is this patient's own, from the table of targets.",
    );
  });

  it('is told from a threshold of episodes that is set apart from the floor', () => {
    const apart = of(target('19:00', 65, null));
    expect(belowTargetWords(apart)).toMatch(
      /^CPP was below the threshold of its episodes \(65\) for 3 h 30 min/,
    );
    expect(whichIsWhich(apart)).toBe(
      '60 mmHg is the floor of the unit (summarize.cppFloorMmHg), for hours, dose and both at once. 65 mmHg is the threshold of episodes (segment.cpp.thresholdMmHg).',
    );
  });
});
