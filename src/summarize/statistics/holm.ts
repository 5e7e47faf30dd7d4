import { insist } from './estimate.js';

/**
 * P values of several questions, adjusted so that at most the share alpha of such families has any that is under alpha by
 * chance. As R's `p.adjust(method = "holm")`. Source: Holm, Scand J Stat 1979;6:65-70.
 *
 * @param values from 0 to 1
 * @returns in the order of the values
 * @throws RangeError where a value is none
 */
export function holmAdjusted(values: readonly number[]): number[] {
  insist(
    values.every((p) => p >= 0 && p <= 1),
    'values from 0 to 1',
  );
  const adjusted = new Array<number>(values.length).fill(1);
  let highest = 0;
  values
    .map((_, i) => i)
    .sort((a, b) => values[a] - values[b])
    .forEach((i, place) => {
      highest = Math.max(highest, Math.min(1, (values.length - place) * values[i]));
      adjusted[i] = highest;
    });
  return adjusted;
}
