import { describe, expect, it } from 'vitest';
import { cannotSayText, patientSentence } from '../../src/report/morning/patient-sentence.js';
import { rankPatients } from '../../src/report/morning/rank.js';
import { unitSentence } from '../../src/report/morning/unit-sentence.js';
import type { RecordingResult } from '../../src/report/results-schema.js';

const TARGETS = {
  icpThresholdMmHg: 22,
  icpBandMmHg: [5, 15],
  cppFloorMmHg: 60,
  cppEdgesMmHg: [50, 60, 70],
} as const;

interface Sketch {
  id?: string;
  icp?: Partial<RecordingResult['icp']>;
  cpp?: Partial<RecordingResult['cpp']>;
  rest?: Partial<RecordingResult>;
}

/** A recording of a quiet night, but for what the sketch says. */
function recording({ id = '1', icp = {}, cpp = {}, rest = {} }: Sketch): RecordingResult {
  return {
    id,
    cannotSay: [],
    knownShare: 1,
    suspectHours: 0,
    suspect: [],
    episodes: [],
    episodesReason: null,
    decimals: { icp: 1, map: 0, cpp: 0 },
    monitoredHours: { icp: 12, map: 12, cpp: 12 },
    icp: { hoursAboveThreshold: 0, doseMmHgHours: 0, highest5MinMmHg: 14.2, ...icp },
    cpp: { hoursBelowFloor: 0, doseBelowFloorMmHgHours: 0, lowest5MinMmHg: 68, ...cpp },
    ...rest,
  } as RecordingResult;
}

const episode = (start: string, minutes: number): RecordingResult['episodes'][number] =>
  ({ start: `2031-02-12T${start}:00+01:00`, minutes }) as RecordingResult['episodes'][number];

const sentence = (sketch: Sketch): string => patientSentence(recording(sketch), TARGETS, 'night');

describe("a patient's sentence", () => {
  it('says that nothing was raised', () => {
    expect(sentence({})).toBe('ICP was never above 22 mmHg in 12 h monitored. CPP was never below 60 mmHg.');
  });

  it('says how long, how often, how high', () => {
    const raised = { hoursAboveThreshold: 0.75, doseMmHgHours: 20, highest5MinMmHg: 56.31 };
    const episodes = [episode('01:55', 19.1), episode('04:50', 14.5)];
    expect(
      sentence({ icp: raised, cpp: { hoursBelowFloor: 0.66, lowest5MinMmHg: 36.6 }, rest: { episodes } }),
    ).toBe(
      'ICP was above 22 mmHg for 45 min of 12 h monitored, in 2 episodes (longest 19 min from 01:55; highest 5-min mean 56.3 mmHg). CPP was below 60 mmHg for 40 min, lowest 5-min mean 37 mmHg.',
    );
    expect(sentence({ icp: raised, rest: { episodes: [episode('01:55', 19.1)] } })).toMatch(
      /in 1 episode \(19 min from 01:55;/,
    );
  });

  it('says that short rises were no episode, and that CPP is not known', () => {
    const rest = { monitoredHours: { icp: 12, map: 0, cpp: 0 } };
    expect(sentence({ icp: { hoursAboveThreshold: 0.1 }, cpp: { hoursBelowFloor: null }, rest })).toBe(
      'ICP was above 22 mmHg for 6 min of 12 h monitored, never long enough for an episode. CPP is not known: there is no arterial pressure.',
    );
  });

  it('puts doubt first', () => {
    const rest = { cannotSay: ['littleKnown', 'longSuspect'], knownShare: 0.33, suspectHours: 4.8333 };
    expect(sentence({ rest })).toMatch(
      /^Cannot say: ICP was known for 33 % of the night only and ICP is suspect for 4 h 50 min of the night\. In what is known: ICP was never/,
    );
    expect(cannotSayText(recording({}), 'night')).toBe('');
  });

  it('gives the reason where the sampling is too coarse', () => {
    const icp = {
      hoursAboveThreshold: null,
      hoursAboveThresholdReason: 'not resolvable at this sampling: every 600 s, needs 300 s or finer',
    };
    expect(sentence({ icp })).toMatch(/^ICP cannot be summed up: not resolvable at this sampling/);
  });
});

describe('the order of patients', () => {
  const doubtful = recording({ id: '7', rest: { cannotSay: ['littleKnown'] } });
  const worst = recording({
    id: '3',
    icp: { doseMmHgHours: 54.8, hoursAboveThreshold: 6.8 },
    rest: { episodes: [episode('00:18', 401)] },
  });
  const mild = recording({ id: '2', icp: { doseMmHgHours: 0.4, hoursAboveThreshold: 0.2 } });
  const lowCpp = recording({ id: '9', cpp: { doseBelowFloorMmHgHours: 5, hoursBelowFloor: 2.5 } });
  const quiet = recording({ id: '1' });

  it('has those first of whom nobody can say, then the largest ICP dose, then the largest CPP dose', () => {
    const order = rankPatients([quiet, lowCpp, mild, doubtful, worst], [{ id: '4', why: 'no data' }]);
    expect(order).toEqual(['4', '7', '3', '2', '9', '1']);
  });

  it('is told in a sentence', () => {
    expect(unitSentence([quiet, lowCpp, mild, doubtful, worst], [{ id: '4', why: 'no data' }], TARGETS)).toBe(
      'Of 6 patients, nobody can say how 4 and 7 were: look there first. Of the others, patient 3 had the largest ICP burden: above 22 mmHg for 6 h 48 min, dose 54.8 mmHg·h. CPP was below 60 mmHg for longest in patient 9: 2 h 30 min.',
    );
    expect(unitSentence([quiet, mild], [], TARGETS)).toBe(
      'Of 2 patients, none had an episode; the most was in patient 2: above 22 mmHg for 12 min, dose 0.4 mmHg·h.',
    );
    expect(unitSentence([quiet], [], TARGETS)).toBe('Of 1 patient, none had ICP above 22 mmHg.');
    expect(unitSentence([], [{ id: '4', why: 'no data' }], TARGETS)).toBe(
      'Of 1 patient, nobody can say how 4 was: look there first.',
    );
  });
});
