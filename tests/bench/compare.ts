import type { Tree } from './figures.js';

/** Two figures are equal where they differ by no more than this share of the larger, */
export const RELATIVE = 1e-9;
/** or by this much, in the figure's own unit: what is left where two sums nearly cancel. */
export const ABSOLUTE = 1e-9;
/** Times of crossings stand in whole seconds, and one that falls on half a second may be rounded either way. */
export const CROSSING_MS = 1000;

/** How two programs compare. */
export interface Comparison {
  /** Numbers that both gave. */
  readonly numbers: number;
  /** Texts, truths and nulls that both gave. */
  readonly words: number;
  readonly largestRelative: number;
  readonly largestAbsolute: number;
  /** Where the largest relative difference among those over the absolute tolerance, or of all, stands. */
  readonly largestAt: string;
  /** What is not equal, in words; empty where all is. */
  readonly unequal: readonly string[];
}

const isCrossing = (path: string): boolean => /\.episodes\[\d+\]\.(start|end)$/.test(path);

/** Holds two trees of figures against each other, leaf by leaf; a leaf that only one has is unequal. */
export function compare(ours: Tree, theirs: Tree): Comparison {
  const found = { numbers: 0, words: 0, largestRelative: 0, largestAbsolute: 0, largestAt: '' };
  const unequal: string[] = [];
  const differ = (path: string, a: Tree | undefined, b: Tree | undefined): void => {
    unequal.push(`${path}: ours ${shown(a)}, theirs ${shown(b)}`);
  };
  const walk = (path: string, a: Tree | undefined, b: Tree | undefined): void => {
    if (typeof a === 'number' && typeof b === 'number') {
      found.numbers++;
      const absolute = Math.abs(a - b);
      const relative = absolute === 0 ? 0 : absolute / Math.max(Math.abs(a), Math.abs(b));
      found.largestAbsolute = Math.max(found.largestAbsolute, absolute);
      // A difference of next to nothing from zero is no measure of precision.
      if (absolute > ABSOLUTE / 100 && relative > found.largestRelative) {
        found.largestRelative = relative;
        found.largestAt = path;
      }
      if (!(relative <= RELATIVE || absolute <= ABSOLUTE)) differ(path, a, b);
    } else if (isBranch(a) && isBranch(b)) {
      const [left, right] = [a, b] as { [key: string]: Tree }[];
      for (const key of new Set([...Object.keys(left), ...Object.keys(right)])) {
        walk(Array.isArray(a) ? `${path}[${key}]` : `${path}.${key}`, left[key], right[key]);
      }
    } else {
      found.words++;
      const near = isCrossing(path) && Math.abs(Date.parse(String(a)) - Date.parse(String(b))) <= CROSSING_MS;
      if (a === undefined || (a !== b && !near)) differ(path, a, b);
    }
  };
  walk('', ours, theirs);
  return { ...found, unequal };
}

const isBranch = (tree: Tree | undefined): boolean => typeof tree === 'object' && tree !== null;
const shown = (leaf: Tree | undefined): string =>
  leaf === undefined ? 'nothing' : JSON.stringify(leaf).slice(0, 80);
