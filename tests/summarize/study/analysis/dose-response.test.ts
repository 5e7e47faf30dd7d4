import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { doseGroups } from '../../../../src/summarize/study/analysis/dose-groups.js';
import { doseResponse } from '../../../../src/summarize/study/analysis/dose-response.js';
import { featureCases } from '../../../../src/summarize/study/analysis/feature-cases.js';
import { outcomeGroups, USUAL_CUTS } from '../../../../src/summarize/study/analysis/outcome-groups.js';
import { holds } from '../../../support/properties.js';
import { dosed, found, inventedCohort } from './invented-cohort.js';

/** Every third outcome is unfavourable. */
const groupsOf = (doses: readonly number[], wanted = 4) =>
  doseGroups(
    featureCases(
      outcomeGroups(
        dosed(
          doses,
          doses.map((_, i) => (i % 3 === 0 ? 2 : 7)),
        ),
        USUAL_CUTS.gose,
      ),
      'dose',
    ),
    wanted,
  );

const ranges = ({ groups }: ReturnType<typeof doseGroups>) =>
  groups.map(({ from, to, patients }) => [from, to, patients]);

describe('groups by burden', () => {
  it('are quartiles where no two values are the same', () => {
    const parts = groupsOf([8, 1, 2, 3, 4, 5, 6, 7, 9, 10, 11, 12]);
    expect(ranges(parts)).toEqual([
      [1, 3, 3],
      [4, 6, 3],
      [7, 9, 3],
      [10, 12, 3],
    ]);
    expect(parts.remarks).toEqual([]);
    // Those with 8, 3 and 6 and 10, each third of the list.
    expect(parts.groups.map(({ unfavourable }) => unfavourable)).toEqual([1, 1, 1, 1]);
  });

  it('begin with those who have no burden, where these are many', () => {
    const parts = groupsOf([0, 0, 0, 0, 0, 1, 2, 3, 4, 5, 6]);
    expect(parts.hasZeroGroup).toBe(true);
    expect(ranges(parts)).toEqual([
      [0, 0, 5],
      [1, 2, 2],
      [3, 4, 2],
      [5, 6, 2],
    ]);
    expect(parts.remarks).toEqual([
      '5 patients have a value of 0, which is more than one of 4 groups would hold: they are the first group, and the others are parted into 3.',
    ]);
    // A 0 among negative values is a value like others.
    expect(groupsOf([-5, 0, 0, 0, 0, 0, 1, 2, 3, 4]).hasZeroGroup).toBe(false);
  });

  it('become fewer where many have the same value, and say so', () => {
    const parts = groupsOf([1, 2, 2, 2, 2, 2, 2, 2, 3, 4]);
    expect(ranges(parts)).toEqual([
      [1, 2, 8],
      [3, 4, 2],
    ]);
    expect(parts.remarks).toEqual([
      'Patients with the same value stand in the same group, and the groups differ in size for that, so that there are 2 instead of 4.',
    ]);
  });

  it('hold each patient once, part no same values, and differ by one where all differ', () => {
    const values = fc.array(fc.integer({ min: 0, max: 12 }), { minLength: 2, maxLength: 40 });
    holds(
      fc.property(values, fc.integer({ min: 2, max: 6 }), (doses, wanted) => {
        const { groups, remarks } = groupsOf(doses, wanted);
        expect(groups.reduce((sum, { patients }) => sum + patients, 0)).toBe(doses.length);
        groups.forEach(({ from, to, patients }, i) => {
          expect(doses.filter((dose) => dose >= from && dose <= to).length).toBe(patients);
          if (i > 0) expect(from).toBeGreaterThan(groups[i - 1].to);
        });
        expect(groups.length).toBeLessThanOrEqual(wanted);
        if (groups.length < wanted) expect(remarks.length).toBeGreaterThan(0);
        const different = doses.map((_, i) => 1 + ((i * 7919) % 104729));
        const plain = groupsOf(different, wanted);
        if (different.length >= wanted) expect(plain.groups.length).toBe(wanted);
        if (different.length >= wanted) expect(plain.remarks).toEqual([]);
      }),
    );
  });
});

describe('the course of outcome over burden', () => {
  const groups = outcomeGroups(inventedCohort(3, 600), USUAL_CUTS.gose);

  it('rises with a burden that makes outcomes worse, and has its intervals around it', () => {
    const { byQuantile, curve } = doseResponse(groups, 'dose');
    const shares = found(byQuantile).groups.map(({ share }) => share.value as number);
    expect(found(byQuantile).hasZeroGroup).toBe(false);
    expect(shares[3]).toBeGreaterThan(shares[0] + 0.2);
    const { points, association, hasFewEvents } = found(curve);
    expect(association.p).toBeLessThan(0.001);
    expect(hasFewEvents).toBe(false);
    expect(points.length).toBe(41);
    for (const { lower, probability, upper } of points) {
      expect(lower).toBeLessThan(probability);
      expect(probability).toBeLessThan(upper);
    }
  });

  it('has fewer knots with few events, and says why there is no curve', () => {
    const few = dosed(
      Array.from({ length: 24 }, (_, i) => i + 1),
      Array.from({ length: 24 }, (_, i) => (i % 2 === 0 ? 2 : 7)),
    );
    const small = found(doseResponse(outcomeGroups(few, USUAL_CUTS.gose), 'dose').curve);
    expect([small.knots.length, small.eventsPerVariable, small.hasFewEvents]).toEqual([3, 6, true]);
    expect(() => doseResponse(groups, 'dose', 1)).toThrow('Expected two groups or more, and got 1');
  });

  const TOO_ALIKE = {
    reason:
      'too many patients have the same value, or nearly the same, to tell the course between them and the others',
  };
  /** 80 patients of whom a share have next to no burden, and the others ever more of it. */
  const mostly = (share: number, little: (place: number) => number) => {
    const doses = Array.from({ length: 80 }, (_, i) => (i < 80 * share ? little(i) : 10 + i / 8));
    const outcomes = doses.map((_, i) => (i % 2 === 0 ? 2 : 7));
    return doseResponse(outcomeGroups(dosed(doses, outcomes), USUAL_CUTS.gose), 'dose');
  };

  it('is no curve where most have no burden or hardly any, and is told by groups', () => {
    for (const share of [0.6, 0.7, 0.9]) {
      for (const little of [() => 0, (place: number) => place / 1000]) {
        const { byQuantile, curve } = mostly(share, little);
        expect(curve).toEqual(TOO_ALIKE);
        expect(found(byQuantile).groups.length).toBeGreaterThan(1);
      }
    }
    const { byQuantile, curve } = mostly(1, () => 0);
    expect([byQuantile, curve]).toEqual(Array(2).fill({ reason: 'all patients have the same value' }));
  });

  it('loses a knot before it loses the curve, and keeps both where few have none', () => {
    expect(found(mostly(0.1, () => 0).curve).knots).toHaveLength(4);
    // Two of four knots stand among those with next to nothing, and one of three.
    expect(found(mostly(0.4, (place) => place / 1000).curve).knots).toHaveLength(3);
  });
});
