import type { Estimate } from '../../statistics/estimate.js';
import { quantileSorted } from '../../statistics/quantile-sorted.js';
import { wilsonInterval } from '../../statistics/wilson-interval.js';
import type { FeatureCases } from './feature-cases.js';

/** Patients who are neighbours by burden. */
export interface DoseGroup {
  /** Lowest and highest value of its patients. */
  readonly from: number;
  readonly to: number;
  readonly median: number;
  readonly patients: number;
  readonly unfavourable: number;
  /** Of unfavourable outcomes, with Wilson's interval. */
  readonly share: Estimate;
}

/** Groups by burden, from the lowest. */
export interface DoseGroups {
  readonly groups: readonly DoseGroup[];
  /** The first group is those without any burden: they are more than one group would hold. */
  readonly hasZeroGroup: boolean;
  /** How the groups came about, where they are not as many or as large as asked for; for pages. */
  readonly remarks: readonly string[];
}

/** Groups whose sizes differ by no more are as alike as the number of patients allows. */
const MOST_APART = 1;

const patientsOf = (count: number): string => (count === 1 ? '1 patient has' : `${count} patients have`);

/**
 * Outcome by quantiles of burden. Patients with the same value are never parted: one on the edge of two groups is in the lower.
 * Where no value is under 0 and more patients have none at all than a group would hold, those are the first group, and the
 * rest is parted into the groups that are left. Own convention.
 *
 * @param wanted how many groups, two or more
 */
export function doseGroups({ values, events }: FeatureCases, wanted: number): DoseGroups {
  const order = [...values.keys()].sort((a, b) => values[a] - values[b]);
  const zeros = values[order[0]] === 0 ? order.filter((i) => values[i] === 0).length : 0;
  const hasZeroGroup = zeros > values.length / wanted && zeros < values.length;
  const rest = hasZeroGroup ? order.slice(zeros) : order;
  const parts = hasZeroGroup ? wanted - 1 : wanted;
  const sorted = rest.map((i) => values[i]);
  const edges = Array.from({ length: parts - 1 }, (_, k) => quantileSorted(sorted, (k + 1) / parts));
  const places = Array.from({ length: parts }, (): number[] => []);
  for (const i of rest) places[edges.filter((edge) => edge < values[i]).length].push(i);
  const filled = [...(hasZeroGroup ? [order.slice(0, zeros)] : []), ...places].filter(
    ({ length }) => length > 0,
  );
  const groups = filled.map((members): DoseGroup => {
    const unfavourable = members.reduce((sum, i) => sum + events[i], 0);
    return {
      from: values[members[0]],
      to: values[members[members.length - 1]],
      median: quantileSorted(
        members.map((i) => values[i]),
        0.5,
      ),
      patients: members.length,
      unfavourable,
      share: wilsonInterval(unfavourable, members.length),
    };
  });
  const remarks: string[] = [];
  if (hasZeroGroup) {
    remarks.push(
      `${patientsOf(zeros)} a value of 0, which is more than one of ${wanted} groups would hold: they are the first group, and the others are parted into ${groups.length - 1}.`,
    );
  }
  const parted = hasZeroGroup ? groups.slice(1) : groups;
  const sizes = parted.map(({ patients }) => patients);
  if (groups.length < wanted || Math.max(...sizes) - Math.min(...sizes) > MOST_APART) {
    const count = groups.length === wanted ? '' : `, so that there are ${groups.length} instead of ${wanted}`;
    remarks.push(
      `Patients with the same value stand in the same group, and the groups differ in size for that${count}.`,
    );
  }
  return { groups, hasZeroGroup, remarks };
}
