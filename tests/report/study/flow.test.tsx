import { describe, expect, it } from 'vitest';
import { studyFlow } from '../../../src/report/results-study-cohort.js';
import { flowResult } from '../../../src/report/study/flow-result.js';
import { FlowSection } from '../../../src/report/study/flow-section.js';
import { flowSentences } from '../../../src/report/study/flow-words.js';
import { inventedStudy } from '../../support/invented-study.js';
import { type Given, gose, smallStudy, textOf } from './small-cohort.js';

const withdrawn = (happened: boolean) => ({ withdrawn: { happened, at: null } });

/** Each way out once, and of those who stay in one of whom treatment was withdrawn and one of whom nobody says. */
const EACH: readonly Given[] = [
  { id: '1', exports: 'none', row: gose(5) },
  { id: '2', exports: 'failed', row: gose(5) },
  { id: '3', hasIcp: false, row: gose(5) },
  { id: '4', hours: 11.9, row: gose(5) },
  { id: '5', row: {} },
  { id: '6', row: { ...gose(1), ...withdrawn(true) } },
  { id: '7', row: gose(3) },
  { id: '8', row: { ...gose(8), ...withdrawn(false) } },
  { id: '9', row: null },
  { id: '10', row: null, exports: 'failed' },
];

describe('the flow of a study', () => {
  const flow = flowResult(smallStudy(EACH, {}, 3));

  it('is counted by hand', () => {
    expect(studyFlow.parse(flow)).toEqual({
      inTable: 8,
      rowsSetAside: 3,
      steps: [
        { step: 'noExports', title: 'no exports', excluded: 1, left: 7 },
        { step: 'notRead', title: 'exports that could not be read', excluded: 1, left: 6 },
        { step: 'noIcp', title: 'no ICP in the exports', excluded: 1, left: 5 },
        {
          step: 'littleMonitored',
          title: 'ICP known for less than 12 h in the first 72 h',
          excluded: 1,
          left: 4,
        },
        { step: 'noOutcome', title: 'no known outcome (GOSE)', excluded: 1, left: 3 },
        { step: 'withdrawn', title: 'treatment withdrawn', excluded: 1, left: 2 },
      ],
      withOutcome: 3,
      notWithdrawn: 2,
      withdrawalUnknown: 1,
      exportsWithoutRow: 2,
    });
  });

  it('names what was asked for', () => {
    const titles = flowResult(
      smallStudy(EACH, {
        primaryHours: 48,
        leastHours: 0,
        outcome: { scale: 'mortality', months: 6 },
      }),
    ).steps.map(({ title }) => title);
    expect(titles).toContain('no ICP known in the first 48 h');
    expect(titles).toContain('no known outcome (alive or dead at 6 months)');
  });

  it('says in a sentence what the boxes say', () => {
    expect(flowSentences(flow).join(' ')).toBe(
      '8 patients are in the cohort table. 4 of them are left out (1: no exports, 1: exports that could not be read, 1: no ICP in the exports and 1: ICP known for less than 12 h in the first 72 h), which leaves 4 who were monitored for long enough; 1 of these has no known outcome (GOSE). The main analysis is of 3 patients. Treatment is known to have been withdrawn in 1 of them; another look is at the other 2 (of 1 of these the table does not say).',
    );
    const text = textOf(<FlowSection flow={flow} notRead={2} />);
    for (const box of [
      '8 in the cohort table',
      '4 left out 1: no exports 1: exports that could not be read 1: no ICP in the exports 1: ICP known',
      '4 monitored for long enough',
      '1: no known outcome (GOSE) 3 in the main analysis: with an outcome',
      '1: treatment withdrawn 2 in the look without withdrawals, of 1 the table does not say',
      '3 rows of the table could not be used (tables/setaside.csv says why): a patient who stands in such a row alone is not counted here.',
      'There are exports of 2 patients who have no row in the table, or none that could be used, and are counted nowhere.',
      'The exports of 2 patients, in the table or not, could not be read',
    ]) {
      expect(text).toContain(box);
    }
  });

  it('is silent of what did not happen', () => {
    const one = flowResult(smallStudy([{ id: '1', row: { ...gose(5), ...withdrawn(false) } }]));
    expect(textOf(<FlowSection flow={one} />)).not.toMatch(/setaside|counted nowhere|does not say/);
    expect(flowSentences(one).join(' ')).toBe(
      '1 patient is in the cohort table. This one was monitored for long enough, and the outcome of this one is known. The main analysis is of 1 patient. Treatment is known to have been withdrawn in 0 of them; another look is at the other 1.',
    );
    expect(flowSentences(flowResult(smallStudy([])))).toEqual([
      '0 patients are in the cohort table.',
      'The main analysis is of 0 patients.',
    ]);
  });

  it('adds up in a cohort made from signals', () => {
    const cohort = inventedStudy({ patients: 24, seed: 2 });
    const { steps, inTable, withOutcome, notWithdrawn } = flowResult(cohort);
    expect(steps.reduce((sum, { excluded }) => sum + excluded, 0) + notWithdrawn).toBe(inTable);
    expect(withOutcome).toBe(cohort.groups.coded.length);
    expect(inTable).toBe(cohort.members.filter(({ row }) => row !== null).length);
  });
});
