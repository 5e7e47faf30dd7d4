/** A count that is too small to be shown: a reader could tell who it was. None at all may be shown. */
export const isSmall = (count: number, below: number): boolean => count > 0 && count < below;

/** The count, or null where it is too small to be shown. */
export const unlessSmall = (count: number | null, below: number): number | null =>
  count !== null && isSmall(count, below) ? null : count;

interface MaskOptions {
  /** Entries that are not shown elsewhere either. */
  readonly alsoHidden?: (index: number) => boolean;
  /** Entries that are shown elsewhere, so that hiding them here hides nothing. */
  readonly isShownElsewhere?: (index: number) => boolean;
}

/**
 * A list of counts whose total is shown, without the small ones; and without the next larger ones, where the total would
 * give the small ones away: where one alone is missing, or where those that are missing add up to less than `below`, or
 * to as much as can only be if each is 1, or each is as large as a small one can be.
 *
 * @returns null where even that leaves the total telling: then none of the list can be shown beside it
 */
export function maskCounts(
  counts: readonly number[],
  below: number,
  { alsoHidden = () => false, isShownElsewhere = () => false }: MaskOptions = {},
): (number | null)[] | null {
  const hidden = new Set([...counts.keys()].filter((i) => isSmall(counts[i], below) || alsoHidden(i)));
  if (hidden.size === 0) return [...counts];
  const further = [...counts.keys()]
    .filter((i) => !hidden.has(i) && counts[i] > 0 && !isShownElsewhere(i))
    .sort((a, b) => counts[b] - counts[a]);
  for (;;) {
    const sum = [...hidden].reduce((total, i) => total + counts[i], 0);
    const isTelling = sum < below || sum === hidden.size || sum === hidden.size * (below - 1);
    if (hidden.size > 1 && !isTelling) break;
    const next = further.pop();
    if (next === undefined) return null;
    hidden.add(next);
  }
  return counts.map((count, i) => (hidden.has(i) ? null : count));
}
