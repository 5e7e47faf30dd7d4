import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FLOW_STEPS, type FlowPatient, studyFlow } from '../../../src/summarize/study/study-flow.js';
import { holds } from '../../support/properties.js';

const WHOLE: FlowPatient = {
  id: '001',
  isInTable: true,
  hasExports: true,
  isRead: true,
  hasIcp: true,
  monitoredHours: 60,
  hasOutcome: true,
  isWithdrawn: false,
};
const NO_EXPORTS = { hasExports: false, hasIcp: false, monitoredHours: 0 };
const SETTINGS = { leastHours: 24 };

const some: FlowPatient[] = [
  WHOLE,
  { ...WHOLE, id: '002', ...NO_EXPORTS, hasOutcome: false },
  { ...WHOLE, id: '003', hasIcp: false, monitoredHours: 0 },
  { ...WHOLE, id: '004', monitoredHours: 23.9, hasOutcome: false },
  { ...WHOLE, id: '005', monitoredHours: 24, hasOutcome: false },
  { ...WHOLE, id: '006', isWithdrawn: true },
  { ...WHOLE, id: '007', isWithdrawn: null },
  { ...WHOLE, id: '008', isInTable: false },
  { ...WHOLE, id: '009', isRead: false, hasIcp: false, monitoredHours: 0, hasOutcome: false },
  { ...WHOLE, id: '010', isRead: false, hasIcp: false, monitoredHours: 0, isInTable: false },
];

describe('the flow of patients', () => {
  it('counts each for the first step that was not passed', () => {
    const flow = studyFlow(some, SETTINGS);
    expect(flow.inTable).toBe(8);
    expect(flow.steps).toEqual([
      { step: 'noExports', excluded: 1, left: 7 },
      { step: 'notRead', excluded: 1, left: 6 },
      { step: 'noIcp', excluded: 1, left: 5 },
      { step: 'littleMonitored', excluded: 1, left: 4 },
      { step: 'noOutcome', excluded: 1, left: 3 },
      { step: 'withdrawn', excluded: 1, left: 2 },
    ]);
    expect(flow.withOutcome).toEqual(['001', '006', '007']);
    expect(flow.notWithdrawn).toEqual(['001', '007']);
    expect(flow.withdrawalUnknown).toBe(1);
    expect(flow.stoppedAt.get('009')).toBe('notRead');
    expect(flow.stoppedAt.get('005')).toBe('noOutcome');
    expect(flow.stoppedAt.get('001')).toBeNull();
  });
  it('names exports without a row and rows without exports', () => {
    const flow = studyFlow(some, SETTINGS);
    expect(flow.exportsWithoutRow).toEqual(['008', '010']);
    expect(flow.rowsWithoutExports).toEqual(['002']);
    expect(flow.stoppedAt.has('008')).toBe(false);
  });
  it('asks for some monitored time even where nothing is asked for', () => {
    const [one] = studyFlow([{ ...WHOLE, monitoredHours: 0 }], { leastHours: 0 }).stoppedAt.values();
    expect(one).toBe('littleMonitored');
  });
  it('adds up', () => {
    const patients = fc
      .array(
        fc.record({
          isInTable: fc.boolean(),
          hasExports: fc.boolean(),
          isRead: fc.boolean(),
          hasIcp: fc.boolean(),
          monitoredHours: fc.integer({ min: 0, max: 48 }),
          hasOutcome: fc.boolean(),
          isWithdrawn: fc.option(fc.boolean()),
        }),
        { maxLength: 30 },
      )
      .map((all) => all.map((one, i): FlowPatient => ({ ...one, id: String(i) })));
    holds(
      fc.property(patients, (all) => {
        const flow = studyFlow(all, SETTINGS);
        let left = flow.inTable;
        expect(flow.steps.map(({ step }) => step)).toEqual([...FLOW_STEPS]);
        for (const one of flow.steps) {
          left -= one.excluded;
          expect(one.left).toBe(left);
        }
        expect(flow.notWithdrawn).toHaveLength(left);
        const analysed = all.filter(
          (one) =>
            one.isInTable &&
            one.hasExports &&
            one.isRead &&
            one.hasIcp &&
            one.monitoredHours >= 24 &&
            one.hasOutcome,
        );
        expect(flow.withOutcome).toEqual(analysed.map(({ id }) => id));
        expect(flow.withOutcome).toHaveLength(flow.steps[FLOW_STEPS.indexOf('noOutcome')].left);
      }),
    );
  });
  it('refuses a patient who comes twice', () => {
    expect(() => studyFlow([WHOLE, WHOLE], SETTINGS)).toThrow(RangeError);
  });
});
