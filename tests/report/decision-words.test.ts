import { describe, expect, it } from 'vitest';
import { decisionNote } from '../../src/report/morning/decision-words.js';
import type { RecordingResult } from '../../src/report/results-schema.js';
import { ADULT } from '../support/targets.js';

const EFFECT = {
  icpOutHours: 0,
  icpInHours: 0,
  mapOutHours: 0,
  mapInHours: 0,
  knownShareByRules: 1,
  suspectHoursByRules: 0,
  cannotSayByRules: [] as ('littleKnown' | 'longSuspect')[],
};
const BY_RULES = {
  icpHoursAboveThreshold: 0.004,
  icpDoseMmHgHours: 0.02,
  cppHoursBelowFloor: 0,
  cppDoseBelowFloorMmHgHours: 0,
};

interface Sketch {
  readonly effect?: Partial<typeof EFFECT>;
  readonly byRules?: Partial<typeof BY_RULES>;
  readonly rest?: object;
}

/** The note of a night in which A. B. and CD decided, but for what the sketch says. */
const noteOf = ({ effect = {}, byRules = {}, rest = {} }: Sketch = {}): string | null =>
  decisionNote(
    {
      decisions: [{ reviewer: 'A. B.' }, { reviewer: 'CD' }, { reviewer: 'A. B.' }],
      cannotSay: [],
      icp: { hoursAboveThreshold: 0.003, doseMmHgHours: 0.01 },
      cpp: { hoursBelowFloor: 0, doseBelowFloorMmHgHours: 0 },
      icpRaw: { hoursAboveThreshold: 3, doseMmHgHours: 220 },
      cppRaw: { hoursBelowFloor: 3, doseBelowFloorMmHgHours: 180 },
      cleaning: { withoutDecisions: { ...BY_RULES, ...byRules }, decisionEffect: { ...EFFECT, ...effect } },
      ...rest,
    } as unknown as RecordingResult,
    ADULT,
  );

describe('the note on what a person decided', () => {
  it('says who, how much went out and in, and the figures by the rules alone', () => {
    expect(
      noteOf({
        effect: { icpOutHours: 3, icpInHours: 10 / 3600, mapOutHours: 0.5, mapInHours: 1 },
        byRules: { icpHoursAboveThreshold: 3.02, icpDoseMmHgHours: 222.04, cppHoursBelowFloor: 3 },
      }),
    ).toBe(
      'A person decided (A. B. and CD): 3 h of ICP taken out, 10 s of ICP put in, 30 min of MAP taken out and 1 h of MAP put in. By the rules alone ICP would be above 22 mmHg for 3 h 1 min (dose 222.0 mmHg·h), not < 1 min (< 0.1); CPP would be below 60 mmHg for 3 h (dose 0.0 mmHg·h), not 0 min (0.0).',
    );
  });

  it('says that what prints the same is the same', () => {
    expect(noteOf({ effect: { icpOutHours: 1 } })).toBe(
      'A person decided (A. B. and CD): 1 h of ICP taken out. By the rules alone the burden would be the same.',
    );
    expect(noteOf()).toBe(
      'A person decided (A. B. and CD): 3 stretches, and the figures rest on the same time as by the rules. By the rules alone the burden would be the same.',
    );
  });

  it('says which doubt of the rules a person has settled', () => {
    const effect = { icpInHours: 12, knownShareByRules: 0, suspectHoursByRules: 12 };
    expect(noteOf({ effect: { ...effect, cannotSayByRules: ['littleKnown', 'longSuspect'] } })).toBe(
      'A person decided (A. B. and CD): 12 h of ICP put in. By the rules alone nobody could say how the patient was: ICP known for 0 % only and ICP suspect for 12 h.',
    );
    const rest = { cannotSay: ['longSuspect'] };
    expect(noteOf({ effect: { cannotSayByRules: ['longSuspect'] }, rest })).not.toContain('nobody');
  });

  it('has no figure of now where nothing is known any more, and none that the sampling cannot show', () => {
    const none = { icp: { hoursAboveThreshold: null, doseMmHgHours: null } };
    const byRules = { icpHoursAboveThreshold: 3, icpDoseMmHgHours: 222 };
    expect(noteOf({ effect: { icpOutHours: 12 }, byRules, rest: none })).toBe(
      'A person decided (A. B. and CD): 12 h of ICP taken out. By the rules alone ICP would be above 22 mmHg for 3 h (dose 222.0 mmHg·h).',
    );
    const coarse = { ...none, icpRaw: none.icp };
    expect(noteOf({ effect: { icpOutHours: 12 }, byRules, rest: coarse })).toBe(
      'A person decided (A. B. and CD): 12 h of ICP taken out.',
    );
  });

  it('is silent where nobody decided anything', () => {
    expect(noteOf({ rest: { decisions: [] } })).toBeNull();
  });
});
