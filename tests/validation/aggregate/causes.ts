/** Why a dose is wrong: what contributes most to the error, patient by patient. */
import { groupBy, sumOf } from '../group.js';
import type { ExcessRow, RecordingRow } from '../measure/rows.js';
import { LEAST_DOSE_MMHG_HOURS } from '../settings.js';
import { quantile } from './quantile.js';

/** Errors up to this share meet the target of the 90th percentile. */
const ALLOWED_SHARE = 0.1;
const EXAMPLES = 3;

/** Patients whose dose an hour is off by more than the target, most of it for one cause. */
export interface Cause {
  /** A kind of artifact that stayed in the headline, or `leftOut`: dose an hour was another while ICP was left out or not known. */
  readonly kind: string;
  /** True where most of it was marked as suspect and stays in for that: the reader sees it. */
  readonly isHatched: boolean;
  readonly patients: number;
  readonly medianError: number;
  /** The worst, by seed, with the error as a share of the truth. */
  readonly worst: readonly { readonly seed: number; readonly error: number }[];
}

interface Blamed {
  readonly seed: number;
  readonly error: number;
  readonly kind: string;
  readonly isHatched: boolean;
}

/** The largest contribution of the sign of the error: kinds first, and what they leave unexplained. */
function blame(row: RecordingRow, excess: readonly ExcessRow[]): Blamed {
  const truth = row.trueDoseMmHgHours / row.trueHours;
  const error = row.cleanedDoseMmHgHours / row.cleanedHours / truth - 1;
  const share = ({ excessMmHgHours }: ExcessRow): number => excessMmHgHours / row.cleanedHours / truth;
  const kinds = [...groupBy(excess, ({ kind }) => kind)].map(([kind, rows]) => ({
    kind,
    share: sumOf(rows, share),
    isHatched: sumOf(rows, (one) => (one.isHatched ? 1 : -1) * Math.abs(share(one))) > 0,
  }));
  const rest = { kind: 'leftOut', share: error - sumOf(kinds, (one) => one.share), isHatched: false };
  const largest = [rest, ...kinds].reduce((a, b) =>
    b.share * Math.sign(error) > a.share * Math.sign(error) ? b : a,
  );
  return { seed: row.seed, error, kind: largest.kind, isHatched: largest.isHatched };
}

/** Causes over the recordings of one sampling, the most frequent first. */
export function causesOf(rows: readonly RecordingRow[], excess: readonly ExcessRow[]): Cause[] {
  const bySeed = groupBy(excess, ({ seed }) => String(seed));
  const blamed = rows
    .filter((row) => row.trueDoseMmHgHours >= LEAST_DOSE_MMHG_HOURS && row.cleanedHours > 0)
    .map((row) => blame(row, bySeed.get(String(row.seed)) ?? []))
    .filter(({ error }) => Math.abs(error) > ALLOWED_SHARE);
  return [...groupBy(blamed, ({ kind, isHatched }) => `${kind} ${isHatched}`).values()]
    .map((group): Cause => {
      const sorted = [...group].sort((a, b) => Math.abs(b.error) - Math.abs(a.error) || a.seed - b.seed);
      const errors = group.map(({ error }) => Math.abs(error));
      return {
        kind: group[0].kind,
        isHatched: group[0].isHatched,
        patients: group.length,
        medianError: quantile(errors, 0.5) ?? 0,
        worst: sorted.slice(0, EXAMPLES).map(({ seed, error }) => ({ seed, error })),
      };
    })
    .sort((a, b) => b.patients - a.patients || (a.kind < b.kind ? -1 : 1));
}
