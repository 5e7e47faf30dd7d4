import type { Mark } from '../../../src/clean/rule.js';

/** Sample times of one rendering, as seconds after its start: blanks are on it as well. */
export interface Grid {
  readonly startMs: number;
  readonly everySeconds: number;
  readonly count: number;
}

/** For each sample of a grid 0, or 1 + the place in `rules` of the first rule that marked it. */
export interface Coverage {
  readonly removed: Uint8Array;
  readonly suspect: Uint8Array;
}

/** Indices of the first and the last sample inside a closed interval of milliseconds. */
export function samplesIn(
  { startMs, everySeconds, count }: Grid,
  { start, end }: { readonly start: number; readonly end: number },
): { first: number; last: number } {
  const step = everySeconds * 1000;
  return {
    first: Math.max(0, Math.ceil((start - startMs) / step)),
    last: Math.min(count - 1, Math.floor((end - startMs) / step)),
  };
}

/** Which rule marked which sample of a channel. */
export function coverageOf(
  marks: readonly Mark[],
  channel: string,
  rules: readonly string[],
  grid: Grid,
): Coverage {
  const coverage = { removed: new Uint8Array(grid.count), suspect: new Uint8Array(grid.count) };
  for (const mark of marks) {
    if (mark.channel !== channel) continue;
    const place = 1 + rules.indexOf(mark.rule);
    const row = coverage[mark.grade];
    const { first, last } = samplesIn(grid, mark);
    for (let i = first; i <= last; i++) if (row[i] === 0 || row[i] > place) row[i] = place;
  }
  return coverage;
}
