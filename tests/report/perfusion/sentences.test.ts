import { describe, expect, it } from 'vitest';
import { cannotSayPerfusion } from '../../../src/report/perfusion/cannot-say.js';
import { jointSentence } from '../../../src/report/perfusion/joint-section.js';
import { mapNotes } from '../../../src/report/perfusion/known-first.js';
import { lowCppSentence } from '../../../src/report/perfusion/low-cpp-section.js';
import { curveSentence } from '../../../src/report/perfusion/optimal-section.js';
import { perfusionSentence } from '../../../src/report/perfusion/perfusion-sentence.js';
import { pulseWords } from '../../../src/report/perfusion/reactivity-section.js';
import { bWaveWords, plateauWords } from '../../../src/report/perfusion/waves-section.js';
import { curveOf, NO_PRX, type PerfusionSketch, perfused, perfusionOf } from '../../support/perfusion.js';
import { ADULT } from '../../support/targets.js';

const sentence = (sketch: PerfusionSketch): string => perfusionSentence(perfused(sketch), ADULT, 'period');
const LOW = { meanMmHg: 67.8, hoursBelowFloor: 4 / 3 };
const NO_MAP: PerfusionSketch = {
  cpp: { meanMmHg: null, hoursBelowFloor: null, lowest5MinMmHg: null },
  rest: { monitoredHours: { icp: 12, map: 0, cpp: 0 } },
};
/** The patient of NO_MAP with a signal that tells nothing of ICP either. */
const UNKNOWN = { cannotSay: ['littleKnown'], knownShare: 0.2 };

describe("a patient's sentence of perfusion", () => {
  it('says that all was well', () => {
    expect(sentence({})).toBe(
      'CPP averaged 74 mmHg and was never below 60. PRx averaged −0.10 and was never above 0.25 in the time that it could be computed (100 % of the whole).',
    );
  });

  it('says how low, how long, and for how long ICP was high at once', () => {
    expect(sentence({ cpp: LOW, joint: { bothHours: 25 / 60 } })).toMatch(
      /^CPP averaged 68 mmHg and was below 60 for 1 h 20 min; for 25 min ICP was above 22 at the same time\. /,
    );
    expect(sentence({ cpp: LOW })).toMatch(/; ICP was never above 22 at the same time\. /);
  });

  it('says over how long CPP is known where that is little', () => {
    const rest = { monitoredHours: { icp: 12, map: 3, cpp: 2.5 } };
    expect(sentence({ rest })).toMatch(/was never below 60 in the 2 h 30 min over which it is known\. /);
    expect(sentence({ rest, cpp: LOW })).toMatch(
      /was below 60 for 1 h 20 min of the 2 h 30 min over which it is known; /,
    );
  });

  it.each([
    [0.31, 0.59, ': ICP followed arterial pressure for most of it, as where autoregulation is impaired.'],
    [0.2, 0.22, '; it was mostly under that limit.'],
    // Where the two disagree there are both numbers and no verdict.
    [0.2, 0.4, '.'],
    [0.31, 0.45, '.'],
  ])('says what a mean PRx of %f means that is above its limit for %f of the time', (mean, part, means) => {
    const said = sentence({ prx: { mean, shareAboveLimit: part, computableShare: 0.62 } });
    expect(said.slice(said.indexOf('PRx'))).toBe(
      `PRx averaged ${mean.toFixed(2)} and was above 0.25 for ${100 * part} % of the time that it could be computed (62 % of the whole)${means}`,
    );
  });

  it('begins with it that PRx cannot be judged, and gives no verdict then', () => {
    const prxDoubt = 'PRx cannot be judged: the clocks of ICP and MAP may be apart by 1 min.';
    expect(sentence({ perfusion: { prxDoubt } })).toBe(
      `${prxDoubt} CPP averaged 74 mmHg and was never below 60.`,
    );
    expect(
      sentence({ perfusion: { prxDoubt }, rest: { ...UNKNOWN, cannotSay: ['littleKnown'] } as never }),
    ).toMatch(new RegExp(`^${prxDoubt} Cannot say: `));
  });

  it('says PRx, which needs no level, where CPP cannot be had for want of an angle', () => {
    const rest = { monitoredHours: { icp: 12, map: 12, cpp: 0 }, levelling: { unknownHours: 12 } } as never;
    expect(sentence({ ...NO_MAP, rest })).toMatch(
      /angle of the head of the bed is not known for it\. PRx averaged −0\.10 /,
    );
  });

  it('says for how long CPP was below a target that is not the floor', () => {
    const target = (start: string, belowMmHg: number) => ({
      start: `2031-02-11T${start}:00+01:00`,
      belowMmHg,
      file: 't.csv',
      line: 2,
    });
    const lowCpp = { ...perfused().lowCpp, hours: 3.5, targets: [target('19:00', 60), target('23:00', 65)] };
    expect(sentence({ rest: { lowCpp } as never })).toMatch(
      / It was below its target \(60, from 23:00 on 65\) for 3 h 30 min\. PRx /,
    );
  });

  it('says why there is no PRx, and what minute data show in its place, under another name', () => {
    expect(sentence({ prx: NO_PRX })).toMatch(
      / PRx cannot be computed: ICP or MAP comes every 60 s, and 10 s or finer is needed\. The low-frequency index from minute data could be computed\.$/,
    );
    const neither = perfusionOf().minuteIndex;
    const whyNone = 'too coarse';
    expect(
      sentence({ prx: NO_PRX, perfusion: { minuteIndex: { ...neither, mean: null, whyNone } } }),
    ).toMatch(/10 s or finer is needed\.$/);
  });

  it('says why CPP is not known, and nothing of what rests on it', () => {
    expect(sentence(NO_MAP)).toBe('CPP is not known: there is no arterial pressure.');
  });

  it('puts first that nobody can say', () => {
    expect(sentence({ rest: { ...UNKNOWN, cannotSay: ['littleKnown'] } as never })).toMatch(
      /^Cannot say: ICP was known for 20 % of the period only\. In what is known: CPP averaged 74 mmHg/,
    );
    expect(sentence({ ...NO_MAP, rest: { ...NO_MAP.rest, ...UNKNOWN } as never })).toBe(
      'Cannot say: ICP was known for 20 % of the period only. CPP is not known: there is no arterial pressure.',
    );
  });
});

describe('why nobody can say how a patient was perfused', () => {
  const why = (sketch: PerfusionSketch): string => cannotSayPerfusion(perfused(sketch), 'period');

  it('is nothing where CPP is known for half of the period', () => {
    expect(why({})).toBe('');
    expect(why({ rest: { monitoredHours: { icp: 12, map: 6, cpp: 6 } } })).toBe('');
  });

  it('is arterial pressure that is missing, for all or for most of the time', () => {
    expect(why(NO_MAP)).toBe('Cannot say: CPP is not known: there is no arterial pressure.');
    expect(why({ rest: { monitoredHours: { icp: 12, map: 5, cpp: 4.8 } } })).toBe(
      'Cannot say: CPP was known for 40 % of the period only.',
    );
  });

  it('is also what makes ICP unsure', () => {
    expect(why({ ...NO_MAP, rest: { ...NO_MAP.rest, cannotSay: ['longSuspect'], suspectHours: 2 } })).toBe(
      'Cannot say: ICP is suspect for 2 h of the period. CPP is not known: there is no arterial pressure.',
    );
  });
});

describe('what has to be known first', () => {
  it('is an hour or more without CPP, and MAP that was derived', () => {
    expect(mapNotes(perfused())).toEqual([]);
    expect(mapNotes(perfused({ rest: { monitoredHours: { icp: 12, map: 11.2, cpp: 11.1 } } }))).toEqual([]);
    expect(
      mapNotes(
        perfused({ rest: { monitoredHours: { icp: 12, map: 9, cpp: 9 }, mapDerivedFrom: '(S + 2 D) / 3' } }),
      ),
    ).toEqual([
      'CPP is not known for 3 h of 12 h (known for 75 %): of that time nothing here says anything.',
      'The export holds no MAP: it is derived from systolic and diastolic pressure, and CPP and PRx rest on it.',
    ]);
    expect(mapNotes(perfused(NO_MAP))).toEqual([]);
    const clockLag = { isApart: true, sentence: 'The clocks may be apart.' };
    expect(mapNotes(perfused({ rest: { clockLag } as never }))).toEqual(['The clocks may be apart.']);
  });
});

describe('the sections in sentences', () => {
  it('say how ICP and CPP came together', () => {
    expect(
      jointSentence(
        perfusionOf({
          joint: { bothHours: 0.5, icpAloneHours: 0.25, cppAloneHours: 1, neitherHours: 10.25 },
        }),
      ),
    ).toBe(
      'ICP was above 22 mmHg and CPP below 60 mmHg at once for 30 min; ICP alone for 15 min, CPP alone for 1 h, neither for 10 h 15 min.',
    );
    expect(jointSentence(perfusionOf())).toBe(
      'ICP above 22 mmHg and CPP below 60 mmHg never came at once: ICP alone for 0 min, CPP alone for 0 min, neither for 12 h.',
    );
    expect(jointSentence(perfusionOf({ joint: { bothHours: null, bothHoursReason: 'too coarse' } }))).toBe(
      'ICP high and CPP low at once cannot be told: too coarse.',
    );
  });

  it('say how often CPP stayed low, and against which target', () => {
    const target = (start: string, belowMmHg: number, line: number | null) => ({
      start: `2031-02-11T${start}:00+01:00`,
      end: '2031-02-12T07:00:00+01:00',
      belowMmHg,
      file: line === null ? null : 'targets.csv',
      line,
    });
    const low = (more: object): string =>
      lowCppSentence(
        perfused({
          rest: { lowCpp: { ...perfused().lowCpp, targets: [target('19:00', 60, null)], ...more } },
        }),
      );
    expect(low({})).toBe('No episode of CPP below 60 mmHg.');
    expect(low({ episodes: [{}], undeterminedEpisodes: 1 })).toBe(
      '1 episode of CPP below 60 mmHg. One more stretch was cut off by missing data and is too short to tell.',
    );
    expect(low({ undeterminedEpisodes: 2 })).toMatch(/ 2 more stretches were cut off/);
    expect(low({ episodesReason: 'too coarse' })).toBe(
      'Episodes of CPP below 60 mmHg cannot be told: too coarse.',
    );
    expect(low({ episodes: [{}, {}], targets: [target('19:00', 60, 2), target('23:00', 65, 3)] })).toBe(
      '2 episodes of CPP below its target of the moment (60 mmHg, from 23:00 on 65 mmHg). In all, CPP was below its target (60, from 23:00 on 65) for 0 min, dose 0.0 mmHg·h. Targets: targets.csv, lines 2 and 3.',
    );
  });

  it('say which waves there were', () => {
    expect(plateauWords(perfusionOf())).toBe(
      'No plateau wave: ICP was never at 50 mmHg or more for 5 to 20 min.',
    );
    expect(plateauWords(perfusionOf({ perfusion: { plateauWavesReason: 'too coarse' } }))).toBe(
      'Plateau waves cannot be told: too coarse.',
    );
    expect(plateauWords(perfusionOf({ perfusion: { plateauWavesCut: 2 } }))).toBe(
      '0 plateau waves seen from beginning to end: ICP at 50 mmHg or more for 5 to 20 min. 2 more cut off by missing data: they may have been longer.',
    );
    expect(plateauWords(perfusionOf({ perfusion: { plateauWaves: [{} as never, {} as never] } }))).toBe(
      '2 plateau waves: ICP at 50 mmHg or more for 5 to 20 min.',
    );
    const bWaves = (more: object): string =>
      bWaveWords(perfusionOf({ perfusion: { bWaves: more as never } }));
    expect(bWaves({ share: 0, windowsWith: 0, windows: 72 })).toBe('No B waves in 72 windows of 10 min.');
    expect(bWaves({ share: 0.25, windowsWith: 18, windows: 72 })).toBe(
      'B waves in 18 of 72 windows of 10 min (25 %).',
    );
    expect(bWaves({ share: null, shareReason: 'too coarse', windowsWith: null, windows: 0 })).toBe(
      'B waves cannot be told: too coarse.',
    );
  });

  it('say what the pulse of ICP shows, where there is a waveform', () => {
    expect(pulseWords(perfusionOf())).toBe('');
    const pulse = { meanAmplitudeMmHg: 3.21, meanRap: 0.6, knownHours: 11, rapHours: 10.5 };
    expect(pulseWords(perfusionOf({ perfusion: { pulse } }))).toBe(
      'The pulse amplitude of ICP averaged 3.2 mmHg over 11 h. RAP, how closely the amplitude follows mean ICP, averaged 0.60 over 10 h 30 min.',
    );
    expect(
      pulseWords(
        perfusionOf({ perfusion: { pulse: { ...pulse, meanRap: null, meanRapReason: 'too short' } } }),
      ),
    ).toMatch(/RAP could not be computed: too short\.$/);
  });

  it('call a curve investigational, whether there is one or not', () => {
    expect(curveSentence(curveOf(75), 0.25)).toBe(
      'Investigational: over the whole period the curve through 10 bins of CPP is lowest at 75 mmHg, the optimum of the whole period, and under 0.25 from 58 mmHg to 92 mmHg (weighted R² 0.91).',
    );
    expect(curveSentence(curveOf(55), 0.25)).toMatch(/under 0\.25 from the lowest bin to 72 mmHg/);
    expect(curveSentence({ ...curveOf(75), fit: null, whyNoFit: 'it does not open upward' }, 0.25)).toBe(
      'Investigational: no curve of PRx by CPP could be fitted: it does not open upward.',
    );
    expect(curveSentence(curveOf(75), 0.25, false)).toMatch(
      /lowest at 75 mmHg \(weighted R² 0\.91\), which is no optimum where chance finds such curves as often\.$/,
    );
    expect(curveSentence(curveOf(75), -0.5)).toBe(
      'Investigational: over the whole period the curve through 10 bins of CPP is nowhere under -0.5 (weighted R² 0.91): its lowest point, at 75 mmHg, is no optimum.',
    );
  });
});
