/**
 * The durations at which a correlation changes its sign along one intensity, by a line between neighbouring cells; none
 * where it keeps it, several where it comes back. A cell of exactly 0 between two signs is the place itself, of several the
 * middle. Nothing is drawn over a blank cell. Source of the line: Guiza et al., Intensive Care Med 2015;41:1067-76; straight
 * lines between cells: own convention.
 *
 * @param durationsMinutes rising
 * @param correlations null where blank
 * @returns minutes, rising
 */
export function zeroCrossings(
  durationsMinutes: readonly number[],
  correlations: readonly (number | null)[],
): number[] {
  const crossings: number[] = [];
  /** The last cell that is not 0, with no blank behind it; -1 where there is none. */
  let last = -1;
  correlations.forEach((r, k) => {
    if (r === null) last = -1;
    if (r === null || r === 0) return;
    const before = last < 0 ? null : correlations[last];
    if (before !== null && Math.sign(before) !== Math.sign(r)) {
      const [from, to] = [durationsMinutes[last], durationsMinutes[k]];
      const isNext = k === last + 1;
      crossings.push(
        isNext
          ? from + ((to - from) * before) / (before - r)
          : (durationsMinutes[last + 1] + durationsMinutes[k - 1]) / 2,
      );
    }
    last = k;
  });
  return crossings;
}
