import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, it } from 'vitest';
import { Resampler } from '../../../src/summarize/statistics/resampler.js';
import { spearmanRho } from '../../../src/summarize/statistics/spearman.js';
import { intensityMap, type MapCell, type MapPatient } from '../../../src/summarize/study/intensity-map.js';
import { outcomeCode } from '../../../src/summarize/study/outcome-code.js';
import { runR } from '../../support/r.js';

const GRID = { intensitiesMmHg: [15, 20, 25], durationsMinutes: [1, 5, 20, 60] };
const CELLS = 12;
const OPTIONS = { resamples: 200, seed: 4 };

/** Patients whose number of episodes hangs on how they fare, for short and long ones the other way round. */
function unit(count: number, seed: number, firstDuration: (i: number) => number = () => 0): MapPatient[] {
  const random = xoroshiro128plus(seed);
  const upTo = (n: number): number => uniformInt(random, 0, n);
  return Array.from({ length: count }, (_, i) => {
    const severity = upTo(6);
    const counts = Uint32Array.from({ length: CELLS }, (_, cell) => {
      const tendency = cell % 4 < 2 ? 6 - severity : severity;
      return Math.max(0, tendency + upTo(5) - 3 - Math.floor(cell / 4));
    });
    return {
      outcome: Math.min(8, Math.max(1, 8 - severity + upTo(2) - 1)),
      monitoredHours: 24 + upTo(90),
      counts,
      firstDuration: firstDuration(i),
    };
  });
}

/** A cell as the definition has it: patients copied as often as they were drawn. */
function naive(patients: readonly MapPatient[], cell: number, form: 'count' | 'perDay') {
  const value = ({ counts, monitoredHours }: MapPatient): number =>
    form === 'count' ? counts[cell] : (counts[cell] * 24) / monitoredHours;
  const rhoOf = (some: readonly MapPatient[]) => {
    const there = some.filter(({ firstDuration }) => firstDuration <= cell % 4);
    return spearmanRho(
      there.map(value),
      there.map(({ outcome }) => outcome),
    );
  };
  const rho = rhoOf(patients);
  const drawn = new Resampler(OPTIONS.resamples, OPTIONS.seed).counts(patients.length);
  let same = 0;
  for (let r = 0; r < OPTIONS.resamples; r++) {
    const copies = patients.flatMap((one, i) => Array<MapPatient>(drawn[r * patients.length + i]).fill(one));
    const again = rhoOf(copies);
    // Beside 0 only rounding could tell them apart.
    if (typeof again === 'number' && Math.abs(again) > 1e-12 && Math.sign(again) === Math.sign(Number(rho)))
      same++;
  }
  return { rho, share: same / OPTIONS.resamples };
}

const cellsOf = (patients: readonly MapPatient[]): readonly MapCell[] =>
  intensityMap(GRID, patients, OPTIONS).cells;

describe('the map of episodes and outcome', () => {
  it('is, cell by cell, what copies of the drawn patients give', () => {
    const late = (i: number): number => (i % 5 === 0 ? 1 : i % 7 === 0 ? 4 : 0);
    for (const patients of [unit(25, 3), unit(40, 5, late)]) {
      cellsOf(patients).forEach((cell, at) => {
        for (const form of ['count', 'perDay'] as const) {
          const { rho, share } = naive(patients, at, form);
          if (cell.withEpisode < 10) {
            expect(cell[form].rho).toHaveProperty('reason');
            continue;
          }
          expect(cell[form].rho).toBe(rho);
          expect(cell[form].sameSignShare).toBe(share);
          expect(cell[form].isStable).toBe(share >= 0.95);
        }
      });
    }
  });

  // Outside source: R's cor(method = "spearman"), which computes midranks and Pearson's r of them (1e-12: rounding).
  it('holds what R says of each cell', () => {
    const patients = unit(60, 8);
    const inR = runR<{ count: number[]; perDay: number[] }>(
      `y <- input$outcome
       m <- do.call(rbind, input$counts)
       list(count = sapply(1:ncol(m), function(k) cor(m[, k], y, method = "spearman")),
            perDay = sapply(1:ncol(m), function(k) cor(m[, k] * 24 / input$hours, y, method = "spearman")))`,
      {
        outcome: patients.map(({ outcome }) => outcome),
        hours: patients.map(({ monitoredHours }) => monitoredHours),
        counts: patients.map(({ counts }) => Array.from(counts)),
      },
    );
    const cells = cellsOf(patients);
    expect(cells.every(({ count }) => typeof count.rho === 'number')).toBe(true);
    cells.forEach(({ count, perDay }, at) => {
      expect(count.rho).toBeCloseTo(inR.count[at], 12);
      expect(perDay.rho).toBeCloseTo(inR.perDay[at], 12);
    });
  });

  it('turns its sign with the outcome, and the shares stay', () => {
    const patients = unit(30, 9);
    const turned = cellsOf(patients.map((one) => ({ ...one, outcome: -one.outcome })));
    cellsOf(patients).forEach(({ count }, at) => {
      expect(turned[at].count.rho).toBeCloseTo(-Number(count.rho), 12);
      expect(turned[at].count.sameSignShare).toBe(count.sameSignShare);
    });
  });

  it('is blank with nine patients who have such an episode, and not with ten', () => {
    const some = (withEpisode: number): MapPatient[] =>
      Array.from({ length: 30 }, (_, i) => ({
        outcome: 1 + (i % 8),
        monitoredHours: 100,
        counts: new Uint32Array(CELLS).fill(i < withEpisode ? 1 + (i % 3) : 0),
        firstDuration: 0,
      }));
    const [nine] = cellsOf(some(9));
    expect([nine.withEpisode, nine.patients]).toEqual([9, 30]);
    expect(nine.count.rho).toEqual({
      reason: '9 patients have such an episode, and a correlation needs 10',
    });
    expect(nine.count.isStable).toBe(false);
    expect(typeof cellsOf(some(10))[0].perDay.rho).toBe('number');
  });

  it('has a reason where all fared the same, and where all had as many', () => {
    const same = unit(20, 2).map((one) => ({ ...one, outcome: 4 }));
    expect(cellsOf(same)[0].count.rho).toEqual({ reason: 'all values of one of the two are the same' });
    const alike = unit(20, 2).map((one) => ({ ...one, counts: new Uint32Array(CELLS).fill(2) }));
    expect(cellsOf(alike)[0].count.rho).toEqual({ reason: 'all values of one of the two are the same' });
    expect(typeof cellsOf(alike)[0].perDay.rho).toBe('number');
  });

  it('leaves patients out of cells that their sampling cannot show, and out of those alone', () => {
    const cells = cellsOf(unit(40, 5, (i) => (i < 12 ? 2 : 0)));
    expect(cells.map(({ patients }) => patients)).toEqual([28, 28, 40, 40, 28, 28, 40, 40, 28, 28, 40, 40]);
  });

  it('has a zero line between the durations where its sign turns', () => {
    const { zeroLine, cells } = intensityMap(GRID, unit(60, 8), OPTIONS);
    expect(Math.sign(Number(cells[1].count.rho))).toBe(1);
    expect(Math.sign(Number(cells[2].count.rho))).toBe(-1);
    expect(zeroLine[0].intensityMmHg).toBe(15);
    expect(zeroLine[0].countMinutes).toHaveLength(1);
    expect(zeroLine[0].countMinutes[0]).toBeGreaterThan(5);
    expect(zeroLine[0].countMinutes[0]).toBeLessThan(20);
  });

  it('refuses patients without monitored time and counts of another grid', () => {
    const [one] = unit(1, 1);
    expect(() => cellsOf([{ ...one, monitoredHours: 0 }])).toThrow(RangeError);
    expect(() => cellsOf([{ ...one, counts: new Uint32Array(5) }])).toThrow(RangeError);
  });

  it('codes outcomes so that higher is better', () => {
    expect(outcomeCode({ scale: 'gose', value: 7 })).toBe(7);
    expect(outcomeCode({ scale: 'mortality', isDead: true })).toBeLessThan(
      outcomeCode({ scale: 'mortality', isDead: false }),
    );
  });
});
