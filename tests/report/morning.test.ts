import { describe, expect, it } from 'vitest';
import { cannotSayText, patientSentence } from '../../src/report/morning/patient-sentence.js';
import { rankPatients } from '../../src/report/morning/rank.js';
import { unitSentence } from '../../src/report/morning/unit-sentence.js';
import type { RecordingResult } from '../../src/report/results-schema.js';
import { AS_ZEROED } from '../support/as-zeroed.js';

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
    period: { start: '2031-02-11T19:00:00+01:00', end: '2031-02-12T07:00:00+01:00' },
    cannotSay: [],
    knownShare: 1,
    suspectHours: 0,
    longestUnknown: null,
    suspect: [],
    episodes: [],
    episodesReason: null,
    decimals: { icp: 1, map: 0, cpp: 0 },
    monitoredHours: { icp: 12, map: 12, cpp: 12 },
    icp: { hoursAboveThreshold: 0, doseMmHgHours: 0, highest5MinMmHg: 14.2, ...icp },
    cpp: { hoursBelowFloor: 0, doseBelowFloorMmHgHours: 0, lowest5MinMmHg: 68, ...cpp },
    icpRaw: { hoursAboveThreshold: 0, doseMmHgHours: 0 },
    cppRaw: { hoursBelowFloor: 0, doseBelowFloorMmHgHours: 0 },
    decisions: [],
    levelling: AS_ZEROED,
    cleaning: { takes: [], channels: [], withoutDecisions: null, decisionEffect: null },
    ...rest,
  } as RecordingResult;
}

/** An account of cleaning in which ICP was taken as given, and the rest was kept or never there. */
const cleaningOf = (takes: object[], noDataShare = 0, more: object = {}): RecordingResult['cleaning'] =>
  ({
    takes: takes.map((take) => ({ channel: 'icp', grade: 'removed', staysIn: false, ...take })),
    channels: [{ channel: 'icp', noDataShare }],
    withoutDecisions: null,
    decisionEffect: null,
    ...more,
  }) as unknown as RecordingResult['cleaning'];

const episode = (start: string, minutes: number): RecordingResult['episodes'][number] =>
  ({ start: `2031-02-12T${start}:00+01:00`, minutes }) as RecordingResult['episodes'][number];

const sentence = (sketch: Sketch): string => patientSentence(recording(sketch), TARGETS, 'night');

describe("a patient's sentence", () => {
  it('says that nothing was raised', () => {
    expect(sentence({})).toBe('ICP was never above 22 mmHg in 12 h monitored. CPP was never below 60 mmHg.');
  });

  it('says when, with the day and the offset where the time of day alone may be two instants', () => {
    const raised = { hoursAboveThreshold: 0.75, doseMmHgHours: 20, highest5MinMmHg: null };
    const at = (start: string, end: string): string =>
      sentence({ icp: raised, rest: { episodes: [episode('01:55', 19.1)], period: { start, end } } });
    expect(at('2031-02-11T19:00:00+01:00', '2031-02-12T07:00:00+01:00')).toContain('(19 min from 01:55)');
    expect(at('2031-02-10T19:00:00+01:00', '2031-02-12T07:00:00+01:00')).toContain('from 12 Feb 01:55)');
    expect(at('2031-02-11T19:00:00+02:00', '2031-02-12T07:00:00+01:00')).toContain('from 01:55 +01:00)');
  });

  it('says over how long CPP is known where that is little', () => {
    const monitoredHours = { icp: 12, map: 0.2, cpp: 0.15 };
    expect(sentence({ rest: { monitoredHours } })).toMatch(
      / CPP was never below 60 mmHg in the 9 min over which it is known\.$/,
    );
    expect(
      sentence({ cpp: { hoursBelowFloor: 0.05, lowest5MinMmHg: null }, rest: { monitoredHours } }),
    ).toMatch(/ CPP was below 60 mmHg for 3 min of the 9 min over which it is known\.$/);
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

  it.each([
    ['there is no arterial pressure', { channels: [], takes: [] }, 0],
    ['there is no arterial pressure in this time', { channels: [{ channel: 'map' }], takes: [] }, 0],
    [
      'there is no arterial pressure in this time',
      {
        channels: [{ channel: 'map' }],
        takes: [{ channel: 'map', rule: 'disconnected', hours: 12, staysIn: false }],
      },
      0,
    ],
    [
      'cleaning left out all of the arterial pressure',
      {
        channels: [{ channel: 'map' }],
        takes: [{ channel: 'map', rule: 'flatline', hours: 12, staysIn: false }],
      },
      0,
    ],
    ['ICP and arterial pressure were never known at the same time', { channels: [], takes: [] }, 2],
  ])('says why CPP is not known: %s', (why, cleaning, map) => {
    const one = recording({
      cpp: { hoursBelowFloor: null },
      rest: {
        monitoredHours: { icp: 12, map, cpp: 0 },
        cleaning: cleaning as unknown as RecordingResult['cleaning'],
      },
    });
    expect(patientSentence(one, TARGETS, 'night')).toBe(
      `ICP was never above 22 mmHg in 12 h monitored. CPP is not known: ${why}.`,
    );
  });

  it('puts doubt first', () => {
    const rest = { cannotSay: ['littleKnown', 'longSuspect'], knownShare: 0.33, suspectHours: 4.8333 };
    expect(sentence({ rest })).toMatch(
      /^Cannot say: ICP was known for 33 % of the night only and ICP is suspect for 4 h 50 min of the night\. In what is known: ICP was never/,
    );
    expect(cannotSayText(recording({}), 'night')).toBe('');
  });

  it.each([
    [cleaningOf([], 0.97), 'there were no data for 97 %'],
    [
      cleaningOf(
        [
          { rule: 'flatline', shareOfPeriod: 0.6 },
          { rule: 'briefSpike', shareOfPeriod: 0.2 },
          { rule: 'step', shareOfPeriod: 0.9, grade: 'suspect', staysIn: true },
        ],
        0.17,
      ),
      'the rule "flat line" took 60 %',
    ],
    [
      cleaningOf([{ rule: 'negative', grade: 'suspect', shareOfPeriod: 0.97 }]),
      'the rule "negative ICP" called 97 % suspect, which is left out',
    ],
    [
      cleaningOf([{ rule: 'disconnected', shareOfPeriod: 0.9 }], 0.07),
      'blanks or missing marks stood for 90 %',
    ],
  ])('names what took most of the time where little is known (%#)', (cleaning, why) => {
    const rest = { cannotSay: ['littleKnown' as const], knownShare: 0.03, cleaning };
    expect(cannotSayText(recording({ rest }), 'night')).toBe(
      `Cannot say: ICP was known for 3 % of the night only (${why}).`,
    );
  });

  it('says from when to when ICP was not known for longest', () => {
    const longestUnknown = { start: '2031-02-11T20:30:00+01:00', end: '2031-02-12T04:30:00+01:00' };
    const period = { start: '2031-02-11T19:00:00+01:00', end: '2031-02-12T07:00:00+01:00' };
    const cleaning = cleaningOf([{ rule: 'disconnected', shareOfPeriod: 0.67 }]);
    const rest = { cannotSay: ['littleKnown' as const], knownShare: 0.33, cleaning, longestUnknown, period };
    expect(cannotSayText(recording({ rest }), 'night')).toBe(
      'Cannot say: ICP was known for 33 % of the night only (blanks or missing marks stood for 67 %; not known from 20:30 to 04:30).',
    );
  });

  it('names the person where ICP is unknown since one removed it, and says no more of nothing', () => {
    const cleaning = cleaningOf(
      [
        { rule: 'reviewed', shareOfPeriod: 0.45 },
        { rule: 'zeroing', shareOfPeriod: 0.01 },
      ],
      0.54,
      { decisionEffect: { cannotSayByRules: [], knownShareByRules: 0.451 } },
    );
    const decisions = [
      { channel: 'icp', decision: 'remove', reviewer: 'A. B.' },
      { channel: 'icp', decision: 'keep', reviewer: 'CD' },
    ] as RecordingResult['decisions'];
    const monitoredHours = { icp: 0, map: 12, cpp: 0 };
    const rest = { cannotSay: ['littleKnown' as const], knownShare: 0, cleaning, decisions, monitoredHours };
    const icp = { hoursAboveThreshold: null, hoursAboveThresholdReason: 'no ICP in this time' };
    expect(sentence({ icp, cpp: { hoursBelowFloor: null }, rest })).toBe(
      'Cannot say: ICP was known for 0 % of the night only (A. B. removed 45 %; by the rules alone it would be known for 45 %).',
    );
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

  const withoutDecisions = {
    icpHoursAboveThreshold: 3,
    icpDoseMmHgHours: 222,
    cppHoursBelowFloor: 0,
    cppDoseBelowFloorMmHgHours: 0,
  };
  const decided = (id: string, cannotSayByRules: string[] = []): RecordingResult =>
    recording({
      id,
      rest: { cleaning: cleaningOf([], 0, { withoutDecisions, decisionEffect: { cannotSayByRules } }) },
    });

  it('lets nobody sink by the decision of a person', () => {
    expect(rankPatients([quiet, worst, decided('5')], [])).toEqual(['5', '3', '1']);
    expect(rankPatients([quiet, worst, decided('5', ['longSuspect']), doubtful], [])).toEqual([
      '7',
      '5',
      '3',
      '1',
    ]);
  });

  it('is told with what a person decided', () => {
    expect(unitSentence([quiet, decided('5'), decided('6')], [], TARGETS)).toBe(
      'Of 3 patients, none had ICP above 22 mmHg. Without what a person decided, ICP would have been above 22 mmHg in patient 5 for 3 h, dose 222.0 mmHg·h; in patient 6 for 3 h, dose 222.0 mmHg·h.',
    );
  });

  it('names so many of a cohort and counts the others', () => {
    const absent = (count: number) =>
      Array.from({ length: count }, (_, i) => ({ id: `${i + 1}`, why: 'no data' }));
    expect(unitSentence([], absent(31), TARGETS)).toContain('how 1, 2, ');
    expect(unitSentence([], absent(31), TARGETS)).toContain(', 30 and 31 were: look there first.');
    expect(unitSentence([], absent(400), TARGETS)).toContain(
      ', 29, 30 and 370 others (see the table) were: look there first.',
    );
  });

  it('is told in a sentence', () => {
    expect(unitSentence([quiet, lowCpp, mild, doubtful, worst], [{ id: '4', why: 'no data' }], TARGETS)).toBe(
      'Of 6 patients, the data cannot say how 4 and 7 were: look there first. Of the others, patient 3 had the largest ICP burden: above 22 mmHg for 6 h 48 min, dose 54.8 mmHg·h. CPP was below 60 mmHg for longest in patient 9: 2 h 30 min.',
    );
    expect(unitSentence([quiet, mild], [], TARGETS)).toBe(
      'Of 2 patients, none had an episode; the most was in patient 2: above 22 mmHg for 12 min, dose 0.4 mmHg·h.',
    );
    expect(unitSentence([quiet], [], TARGETS)).toBe('ICP of patient 1 was never above 22 mmHg.');
    expect(unitSentence([], [{ id: '4', why: 'no data' }], TARGETS)).toBe(
      'The data cannot say how patient 4 was: look there first.',
    );
    expect(unitSentence([mild], [], TARGETS)).toBe(
      'ICP of patient 2 was above 22 mmHg for 12 min, dose 0.4 mmHg·h, never long enough for an episode.',
    );
    expect(unitSentence([lowCpp], [], TARGETS)).toBe(
      'ICP of patient 9 was never above 22 mmHg. CPP was below 60 mmHg for 2 h 30 min.',
    );
  });
});
