import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { prxByCpp } from '../../../src/summarize/perfusion/index-by-cpp.js';
import { ADULT } from '../../support/targets.js';

const course = (values: readonly number[]) => ({ firstEnd: 0, values: Float64Array.from(values) });
const of = (prx: readonly number[], cpp: readonly number[]) =>
  prxByCpp(course(prx), course(cpp), ADULT.cppEdgesMmHg);

describe('PRx by bands of CPP', () => {
  it('takes a border as all bands of CPP do: closed below, the target closed on both sides', () => {
    const bands = of([0.1, 0.2, 0.3, 0.4, 0.5], [49.9, 50, 60, 70, 70.1]);
    expect(bands.map(({ fromMmHg, toMmHg, minutes }) => [fromMmHg, toMmHg, minutes])).toEqual([
      ...[
        [null, 50, 1],
        [50, 60, 1],
      ],
      ...[
        [60, 70, 2],
        [70, null, 1],
      ],
    ]);
    expect(bands[2].meanPrx).toBeCloseTo(0.35, 12);
  });

  it('counts the minutes alone in which both are known, and has no mean of none', () => {
    const bands = of([0.1, Number.NaN, 0.3], [45, 45]);
    expect(bands[0]).toMatchObject({ minutes: 1, meanPrx: 0.1 });
    expect(bands[1]).toMatchObject({
      minutes: 0,
      meanPrx: null,
      meanPrxReason: 'no minute with PRx in this band',
    });
  });

  it('comes to the mean of all minutes, band by band weighted by their minutes', () => {
    const minute = fc.tuple(
      fc.double({ min: -1, max: 1, noNaN: true }),
      fc.double({ min: 20, max: 120, noNaN: true }),
    );
    fc.assert(
      fc.property(fc.array(minute, { minLength: 1, maxLength: 200 }), (minutes) => {
        const bands = of(
          minutes.map(([r]) => r),
          minutes.map(([, mmHg]) => mmHg),
        );
        expect(bands.reduce((n, band) => n + band.minutes, 0)).toBe(minutes.length);
        const sum = bands.reduce((all, band) => all + (band.meanPrx ?? 0) * band.minutes, 0);
        expect(sum).toBeCloseTo(
          minutes.reduce((all, [r]) => all + r, 0),
          9,
        );
      }),
    );
  });
});
