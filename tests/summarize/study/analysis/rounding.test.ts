import { describe, expect, it } from 'vitest';
import { withoutRounding } from '../../../../src/summarize/study/analysis/feature-cases.js';

describe('values of a feature', () => {
  it('that differ by rounding alone are one value', () => {
    const values = Float64Array.of(
      29.983333333333334,
      29.98333333333332,
      29.983333333333327,
      0,
      5e-17 - 5e-17,
    );
    expect([...withoutRounding(values)]).toEqual([
      29.98333333333332, 29.98333333333332, 29.98333333333332, 0, 0,
    ]);
  });

  it('that are apart stay as they are, to the last bit', () => {
    const values = Float64Array.of(3, 1 + 1e-9, 1, -2, 1e-20, 0, Math.PI);
    expect([...withoutRounding(values)]).toEqual([...values]);
  });
});
