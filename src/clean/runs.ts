/** A run of neighbouring samples: first and last index, both inside. */
export interface Run {
  readonly first: number;
  readonly last: number;
}

/** The maximal runs of indices from 0 to length - 1 that fulfil the condition. */
export function runsWhere(length: number, holds: (i: number) => boolean): Run[] {
  const runs: Run[] = [];
  for (let i = 0; i < length; i++) {
    if (!holds(i)) continue;
    const first = i;
    while (i + 1 < length && holds(i + 1)) i++;
    runs.push({ first, last: i });
  }
  return runs;
}
