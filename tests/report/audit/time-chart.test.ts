import { describe, expect, it } from 'vitest';
import { maskTime } from '../../../src/report/audit/mask-time.js';
import { timeResult } from '../../../src/report/audit/time-result.js';
import { timeMeasureSpec } from '../../../src/report/charts/audit-time.js';
import type { AuditTime } from '../../../src/report/results-audit-time.js';
import { inventedUnit } from '../../support/invented-unit.js';

const PART = timeResult(inventedUnit({ seed: 8, patients: 40, weeks: 44, changedAfterWeeks: 22, faster: 4 }));

interface Layer {
  readonly data: { readonly values: readonly Record<string, number>[] };
  readonly mark: {
    readonly type: string;
    readonly filled?: boolean;
    readonly strokeDash?: number[];
    readonly color?: string;
  };
}

function layersOf(part: AuditTime, name: string): Layer[] {
  const measure = part.measures.find((one) => one.measure === name)!;
  const spec = timeMeasureSpec(part, measure) as { vconcat: [{ layer: Layer[] }] };
  return spec.vconcat[0].layer.filter(({ mark }) => typeof mark === 'object');
}

const pointsOf = (layers: Layer[], filled: boolean) =>
  layers
    .filter(({ mark }) => mark.type === 'point' && mark.filled === filled)
    .flatMap(({ data }) => data.values);

describe.each(['alarmsPerDay', 'sustainedShare', 'treatedShare', 'medianMinutesToTreatment'])(
  'the chart of %s',
  (name) => {
    const measure = PART.measures.find((one) => one.measure === name)!;

    it('has a point a value in the middle of its week, and a ring where it is beyond a limit', () => {
      const layers = layersOf(PART, name);
      expect(pointsOf(layers, true)).toEqual(
        measure.points.flatMap(({ value }, i) => (value === null ? [] : [{ x: 7 * i + 3.5, y: value }])),
      );
      const beyond = measure.views
        .filter(({ kind }) => kind !== 'rebased')
        .flatMap(({ limits }) => limits.filter((one) => one.beyond !== null));
      expect(pointsOf(layers, false).length).toBe(beyond.length);
    });

    it('has the median before the change as a line, and carried over it as a dashed one', () => {
      const rules = layersOf(PART, name).filter(({ mark }) => mark.type === 'rule');
      const line = measure.views[0].run.centreLine;
      const medians = rules.flatMap(({ mark, data }) =>
        data.values
          .filter(({ y }) => y !== undefined)
          .map((one) => ({ ...one, isDashed: mark.strokeDash !== undefined })),
      );
      expect(medians).toMatchObject([
        { y: line, x: 0, x2: 154, isDashed: false },
        { y: line, x: 154, x2: 308, isDashed: true },
      ]);
      // The change itself, between the 22nd and the 23rd week.
      expect(rules.flatMap(({ data }) => data.values).filter(({ y }) => y === undefined)).toEqual([
        { x: 154 },
      ]);
    });

    it('has no point of a week that is masked', () => {
      const masked = maskTime(PART, 6);
      const shown = masked.measures
        .find((one) => one.measure === name)!
        .points.filter(({ value }) => value !== null);
      expect(pointsOf(layersOf(masked, name), true).length).toBe(shown.length);
    });
  },
);
