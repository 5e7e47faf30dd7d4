import { describe, expect, it } from 'vitest';
import type { CohortRow } from '../../../src/ingest/tables/cohort.js';
import { studyOutcomeSpec } from '../../../src/report/charts/study-outcome.js';
import { SIDE_COLOURS } from '../../../src/report/charts/study-sides.js';
import { studyOutcome, studyWindows } from '../../../src/report/results-study-cohort.js';
import { outcomeResult } from '../../../src/report/study/outcome-result.js';
import { OutcomeSection } from '../../../src/report/study/outcome-section.js';
import {
  assessedSentence,
  cutSentence,
  outcomeSentence,
} from '../../../src/report/study/outcome-sentences.js';
import { windowsResult } from '../../../src/report/study/windows-result.js';
import { type Given, gose, smallStudy, textOf } from './small-cohort.js';

const at = (months: number | null, outcome: CohortRow['outcome']): Partial<CohortRow> => ({
  outcome,
  assessed: months === null ? null : { months },
});
const counts = (levels: readonly { code: number; count: number }[]): number[][] =>
  levels.filter(({ count }) => count > 0).map(({ code, count }) => [code, count]);

const FIVE: readonly Given[] = [
  { id: '1', row: gose(8) },
  { id: '2', row: gose(5), hours: 60, endsBy: 'data', remarks: ['a remark', 'another'] },
  { id: '3', row: gose(1), hours: 30, endsBy: 'death', remarks: ['another', 'another'] },
  { id: '4', row: gose(1), hours: 40, endsBy: 'withdrawn' },
  { id: '5', row: {}, remarks: ['a remark of a patient without outcome'] },
];

describe('the outcome of a study', () => {
  it('is counted by hand over the main analysis', () => {
    const outcome = studyOutcome.parse(outcomeResult(smallStudy(FIVE)));
    expect(outcome).toMatchObject({
      scale: 'gose',
      scaleIsOfTable: true,
      favourableFrom: 5,
      words: { favourable: 'favourable: GOSE 5 to 8', unfavourable: 'unfavourable: GOSE 1 to 4' },
      cutSource: 'common practice, no source',
      months: null,
      withinMonths: 1,
      assessed: { inTime: 4, otherTime: 0, unknown: 0 },
      counts: { favourable: 2, unfavourable: 2 },
      onAnotherScale: 0,
    });
    expect(counts(outcome.levels)).toEqual([
      [1, 2],
      [5, 1],
      [8, 1],
    ]);
    expect(outcome.levels).toHaveLength(8);
    expect(outcomeSentence(outcome)).toBe(
      'Of the 4 patients of the main analysis the outcome is unfavourable (GOSE 1 to 4) in 2 (50 %) and favourable (GOSE 5 to 8) in 2 (50 %).',
    );
  });

  it('tells when it was assessed, over the patients of the table whether they are in the study or not', () => {
    const people: readonly Given[] = [
      { id: '1', row: at(6, { scale: 'gose', value: 6 }) },
      { id: '2', row: at(7, { scale: 'gose', value: 3 }), exports: 'none' },
      { id: '3', row: at(3, { scale: 'gose', value: 8 }) },
      { id: '4', row: at(1, { scale: 'gose', value: 1 }) },
      { id: '5', row: at(12, { scale: 'gose', value: 1 }) },
      { id: '6', row: at(null, { scale: 'gose', value: 4 }) },
      { id: '7', row: at(6, null) },
    ];
    const outcome = outcomeResult(smallStudy(people, { outcome: { scale: 'gose', months: 6 } }));
    expect(outcome.assessed).toEqual({ inTime: 3, otherTime: 2, unknown: 1 });
    expect(outcome.counts).toEqual({ favourable: 1, unfavourable: 2 });
    expect(assessedSentence(outcome)).toBe(
      'Asked for: 6 months after the injury, up to 1 month before or after. Of the 6 patients of the table with an outcome 3 were assessed then, or found dead before; 2 at another time, which counts as no known outcome; of 1 the table does not say when, and that outcome counts.',
    );
    expect(assessedSentence(outcomeResult(smallStudy(people)))).toBe(
      'No time of assessment was asked for: the outcome of each of the 6 patients of the table who have one is taken whenever it was assessed.',
    );
    expect(assessedSentence(outcomeResult(smallStudy([{ id: '1' }])))).toBe(
      'No patient of the table has an outcome.',
    );
  });

  it('on the GOS reads the GOSE, and what is on another scale is told apart', () => {
    const people: readonly Given[] = [
      { id: '1', row: gose(8) },
      { id: '2', row: gose(4) },
      { id: '3', row: { outcome: { scale: 'gos', value: 4 } } },
      { id: '4', row: { outcome: { scale: 'mortality', isDead: true } } },
      { id: '5', row: { outcome: { scale: 'mortality', isDead: false } }, hours: 2 },
    ];
    const outcome = outcomeResult(smallStudy(people, { outcome: { scale: 'gos', favourableFrom: 5 } }));
    expect(counts(outcome.levels)).toEqual([
      [3, 1],
      [4, 1],
      [5, 1],
    ]);
    expect(outcome.counts).toEqual({ favourable: 1, unfavourable: 2 });
    expect(outcome.onAnotherScale).toBe(1);
    expect(cutSentence(outcome)).toBe(
      'Scale: GOS, as the pipeline file says. Cut between the groups: as the pipeline file says. 1 patient who was monitored for long enough has an outcome on a scale that does not tell it, and counts as without outcome.',
    );
  });

  it('of mortality is alive or dead, by whatever scale says so', () => {
    const people: readonly Given[] = [
      { id: '1', row: gose(2) },
      { id: '2', row: { outcome: { scale: 'gos', value: 1 } } },
      { id: '3', row: { outcome: { scale: 'mortality', isDead: false } } },
    ];
    const outcome = outcomeResult(smallStudy(people, { outcome: { scale: 'mortality' } }));
    expect(outcome.levels).toEqual([
      { code: 0, title: 'dead', isFavourable: false, count: 1 },
      { code: 1, title: 'alive', isFavourable: true, count: 2 },
    ]);
    expect(outcomeSentence(outcome)).toBe(
      'Of the 3 patients of the main analysis the outcome is dead in 1 (33 %) and alive in 2 (67 %).',
    );
    expect(cutSentence(outcome)).toBe('Scale: alive or dead, as the pipeline file says.');
  });
});

describe('the time that counts', () => {
  it('is told of the main analysis alone', () => {
    const windows = studyWindows.parse(windowsResult(smallStudy(FIVE)));
    expect(windows.primaryHours).toBe(72);
    expect(windows.monitoredHours.favourable).toEqual({
      median: 66,
      lowerQuartile: 63,
      upperQuartile: 69,
      known: 2,
      missing: 0,
    });
    expect(windows.monitoredHours.unfavourable.median).toBe(35);
    expect(windows.endsBy.map(({ kind, patients }) => [kind, patients])).toEqual([
      ['length', 1],
      ['data', 1],
      ['monitoringTo', 0],
      ['withdrawn', 1],
      ['brainDeath', 0],
      ['death', 1],
    ]);
    // Once a patient, however often it was remarked.
    expect(windows.remarks).toEqual([
      { remark: 'another', patients: 2 },
      { remark: 'a remark', patients: 1 },
    ]);
  });

  it('has no median where nobody has an outcome, and says why', () => {
    const { monitoredHours } = windowsResult(smallStudy([{ id: '1' }]));
    expect(monitoredHours.favourable).toEqual({
      median: null,
      medianReason: 'no value is known',
      lowerQuartile: null,
      lowerQuartileReason: 'no value is known',
      upperQuartile: null,
      upperQuartileReason: 'no value is known',
      known: 0,
      missing: 0,
    });
  });

  it('stands on the page beside the outcome', () => {
    const cohort = smallStudy(FIVE);
    const text = textOf(
      <OutcomeSection outcome={outcomeResult(cohort)} windows={windowsResult(cohort)} svg="<svg ></svg>" />,
    );
    expect(text).toContain('5 lower moderate disability 1 25 % 4 upper severe disability 0 0 %');
    expect(text).toContain('It has its full length in 1 of the 4 patients of the main analysis (25 %).');
    expect(text).toContain(
      'Favourable: GOSE 5 to 8 2 66.0 (63.0 to 69.0) Unfavourable: GOSE 1 to 4 2 35.0 (32.5 to 37.5)',
    );
    expect(text).toContain(
      'its full length 1 the last ICP of the exports 1 withdrawal of treatment 1 death 1',
    );
    expect(text).toContain('in how many of them: 2: another 1: a remark');
    expect(text).not.toContain('without outcome');
  });
});

interface Layer {
  readonly mark: { readonly type: string };
  readonly data: { readonly values: readonly Record<string, unknown>[] };
}

describe('the chart of outcomes', () => {
  it('has a bar a level, the best on top, and the cut between them', () => {
    const outcome = outcomeResult(smallStudy(FIVE));
    const { vconcat } = studyOutcomeSpec(outcome) as unknown as { vconcat: [{ layer: Layer[] }] };
    const [bars, , cut] = vconcat[0].layer;
    expect(bars.data.values.map(({ x }) => x)).toEqual([1, 0, 0, 1, 0, 0, 0, 2]);
    expect(bars.data.values.map(({ colour }) => colour)).toEqual([
      ...Array(4).fill(SIDE_COLOURS.favourable),
      ...Array(4).fill(SIDE_COLOURS.unfavourable),
    ]);
    const y = cut.data.values[0].y as number;
    expect(bars.data.values[3].y2 as number).toBeLessThan(y);
    expect(bars.data.values[4].y as number).toBeGreaterThan(y);
  });
});
