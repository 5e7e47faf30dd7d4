import { describe, expect, it } from 'vitest';
import { rankByPerfusion } from '../../../src/report/perfusion/rank.js';
import { perfusionUnitSentence } from '../../../src/report/perfusion/unit-sentence.js';
import { NO_PRX, type PerfusionSketch, perfused } from '../../support/perfusion.js';
import { ADULT } from '../../support/targets.js';

const low = (
  id: string,
  bothHours: number,
  dose: number,
  hours = dose / 5,
  prx: PerfusionSketch['prx'] = {},
) =>
  perfused({
    id,
    cpp: { hoursBelowFloor: hours, doseBelowFloorMmHgHours: dose },
    joint: { bothHours },
    prx,
  });
const noMap = (id: string) =>
  perfused({ id, cpp: { meanMmHg: null }, rest: { monitoredHours: { icp: 12, map: 0, cpp: 0 } } });
const decided = (id: string, withoutDecisions: object, cannotSayByRules: string[] = []) =>
  perfused({
    id,
    rest: {
      cleaning: {
        takes: [],
        channels: [],
        withoutDecisions,
        decisionEffect: { cannotSayByRules },
      } as never,
    },
  });

describe('the order of patients on the page of perfusion', () => {
  it('is by hours with both, then by dose, then by number', () => {
    const all = [
      low('10', 0, 0),
      low('9', 0, 0),
      low('1', 0, 40),
      low('2', 1, 5),
      low('3', 2, 1),
      low('4', 1, 6),
    ];
    expect(rankByPerfusion(all, [])).toEqual(['3', '4', '2', '1', '9', '10']);
  });

  it('lets no moment with both outrank hours of low CPP', () => {
    expect(rankByPerfusion([low('1', 4 / 60, 1), low('2', 0, 40), low('3', 5 / 60, 1)], [])).toEqual([
      '3',
      '2',
      '1',
    ]);
  });

  it('puts first of whom nobody can say, with those without data', () => {
    const little = perfused({ id: '8', rest: { monitoredHours: { icp: 12, map: 5, cpp: 5 } } });
    const suspect = perfused({ id: '6', rest: { cannotSay: ['longSuspect'] } });
    expect(
      rankByPerfusion([low('1', 9, 90), noMap('7'), little, suspect], [{ id: '5', why: 'no data' }]),
    ).toEqual([...['5', '6', '7', '8'], '1']);
  });

  it('lets no decision make a patient sink', () => {
    const byRules = (icp: number, cpp: number, dose = 0) => ({
      icpHoursAboveThreshold: icp,
      icpDoseMmHgHours: 0,
      cppHoursBelowFloor: cpp,
      cppDoseBelowFloorMmHgHours: dose,
    });
    expect(
      rankByPerfusion(
        [
          low('1', 1.5, 5),
          decided('2', byRules(2, 3)),
          decided('3', byRules(0, 3, 50)),
          low('4', 0, 40),
          decided('5', byRules(0, 0), ['littleKnown']),
        ],
        [],
      ),
    ).toEqual(['5', '2', '1', '3', '4']);
  });
});

describe("the unit's sentence of perfusion", () => {
  const sentence = (
    recordings: ReturnType<typeof perfused>[],
    absent: { id: string; why: string }[] = [],
  ): string => perfusionUnitSentence(recordings, absent, ADULT);
  const impaired = { mean: 0.41, shareAboveLimit: 0.7, computableShare: 0.62 };

  it('says of whom nobody can say, whose perfusion was worst, and where PRx was highest', () => {
    expect(
      sentence([low('1', 0.5, 10, 2), low('2', 0, 20, 3, impaired), noMap('3')], [{ id: '4', why: '' }]),
    ).toBe(
      'Of 4 patients, the data cannot say how 3 and 4 were perfused. Of the others, patient 1 had ICP above 22 and CPP below 60 mmHg at once for longest: 30 min. CPP was low for longest in patient 2: 3 h. PRx could be computed in 2 of 2; its mean was highest in patient 2: 0.41, and above 0.25 for 70 % of the time that it could be computed (62 % of the whole).',
    );
  });

  it('says that it is the same patient, and that there was none', () => {
    expect(sentence([low('1', 0.5, 10), low('2', 0, 0)])).toMatch(
      /CPP was low for longest in the same patient: 2 h\./,
    );
    expect(sentence([low('1', 0, 10), low('2', 0, 0)])).toMatch(
      /^Of 2 patients, none had ICP above 22 and CPP below 60 mmHg at once\. CPP was low for longest in patient 1: 2 h\./,
    );
    expect(sentence([low('1', 0, 0, 0, NO_PRX), low('2', 0, 0, 0, NO_PRX)])).toBe(
      'Of 2 patients, none had CPP below 60 mmHg. PRx could be computed in none of them.',
    );
  });

  it('leaves out of it whose PRx cannot be judged, and says so', () => {
    const apart = { prxDoubt: 'PRx cannot be judged: the clocks may be apart.' };
    const first = {
      ...low('1', 0.5, 10, 2, impaired),
      perfusion: { ...low('1', 0.5, 10).perfusion, ...apart },
    };
    expect(sentence([first, low('2', 0, 20, 3)])).toMatch(
      / PRx could be computed in 1 of 2; its mean was highest in patient 2: −0\.10, .* It cannot be judged in 1\.$/,
    );
    expect(sentence([first])).toMatch(/ PRx cannot be judged: the clocks may be apart\.$/);
    expect(sentence([first, first])).toMatch(/ PRx: It cannot be judged in 1 and 1\.$/);
  });

  it('names nobody for a moment with both', () => {
    expect(sentence([low('1', 1 / 60, 10), low('2', 0, 0)])).toMatch(
      /none had ICP above 22 and CPP below 60 mmHg at once for 5 min or more\./,
    );
  });

  it('compares nobody with one patient alone', () => {
    expect(sentence([low('1', 0.5, 10, 2, impaired)])).toBe(
      'CPP of patient 1 was below 60 mmHg for 2 h, with ICP above 22 mmHg at once for 30 min. PRx averaged 0.41, and above 0.25 for 70 % of the time that it could be computed (62 % of the whole).',
    );
    expect(sentence([low('1', 0, 0, 0, NO_PRX), noMap('2')])).toBe(
      'Of 2 patients, the data cannot say how 2 was perfused. CPP of patient 1 was never below 60 mmHg.',
    );
    expect(sentence([noMap('2')])).toBe('The data cannot say how patient 2 was perfused.');
  });
});
