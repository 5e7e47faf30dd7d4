import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { cohortIn } from './cohort.js';
import { compare } from './compare.js';
import { equalFigures } from './equal-figures.js';
import { ours, referencePrograms } from './programs.js';

const folder = mkdtempSync(join(tmpdir(), 'cistern-equal-test-'));
afterAll(() => rmSync(folder, { recursive: true }));

describe('the programs of the benchmark', () => {
  // numpy and pandas, R with data.table, and DuckDB, each with its own way to the same definitions; floating point to 1e-9.
  it('give equal figures for the same exports', async () => {
    const cohort = cohortIn(folder, { patients: 3, hours: 30 });
    const dist = fileURLToPath(new URL('../../dist', import.meta.url));
    const compared = await equalFigures(cohort, [ours(dist), ...referencePrograms(2)], null);
    expect(compared.map(({ program }) => program.name)).toEqual([
      'pandas and numpy, one process',
      'pandas and numpy, 2 processes',
      'R data.table, 2 processes',
      'DuckDB, 2 threads',
    ]);
    for (const { comparison } of compared) {
      expect(comparison.unequal).toEqual([]);
      expect(comparison.numbers).toBeGreaterThan(1000);
    }
  }, 180_000);
});

describe('the comparison of figures', () => {
  const figures = {
    icp: { mean: 12.5, median: null },
    episodes: [{ start: '2031-02-11T10:00:00+00:00', minutes: 5 }],
  };

  it('counts what is equal', () => {
    expect(compare(figures, figures)).toMatchObject({
      numbers: 2,
      words: 2,
      largestRelative: 0,
      unequal: [],
    });
  });

  it('lets rounding pass, and nothing more', () => {
    expect(compare({ a: 1e6 }, { a: 1e6 + 1e-4 }).unequal).toEqual([]);
    expect(compare({ a: 1e6 }, { a: 1e6 + 1e-2 }).unequal).toEqual(['.a: ours 1000000, theirs 1000000.01']);
    expect(compare({ a: 0 }, { a: 1e-10 }).unequal).toEqual([]);
    expect(compare({ a: 0 }, { a: 1e-8 }).unequal).toEqual(['.a: ours 0, theirs 1e-8']);
    expect(compare({ a: 1 }, { a: Number.NaN }).unequal).toEqual(['.a: ours 1, theirs null']);
  });

  it('misses nothing that only one has', () => {
    expect(compare(figures, { ...figures, episodes: [] }).unequal).toEqual([
      '.episodes[0]: ours {"start":"2031-02-11T10:00:00+00:00","minutes":5}, theirs nothing',
    ]);
    expect(compare({ a: null }, {}).unequal).toEqual(['.a: ours null, theirs nothing']);
    expect(compare({}, { a: null }).unequal).toEqual(['.a: ours nothing, theirs null']);
    expect(compare({ a: null }, { a: 0 }).unequal).toEqual(['.a: ours null, theirs 0']);
  });

  it('takes times of crossings to the second', () => {
    const moved = (start: string) => ({ ...figures, episodes: [{ start, minutes: 5 }] });
    expect(compare(figures, moved('2031-02-11T10:00:01+00:00')).unequal).toEqual([]);
    expect(compare(figures, moved('2031-02-11T10:00:02+00:00')).unequal).toHaveLength(1);
  });
});
