import { START_MS } from '../../../fixtures/labelled/start.js';
import type { Mark } from '../../../src/clean/rule.js';
import { type Interval, intersect, totalMs, unite } from '../../../src/recording/interval.js';
import type { Signal } from '../../../src/recording/signal.js';
import { timeWeightedMean } from '../../../src/summarize/mean.js';
import { PLAIN, THRESHOLD_MMHG } from '../settings.js';
import { inventedOf, missedOf } from './match-episodes.js';
import type { EpisodeRow, Where } from './rows.js';
import type { PatientTruth } from './truth-of.js';

const MINUTE_MS = 60_000;
/** So many kinds are named of what lies in an episode. */
const NAMED = 2;

const minutesOf = ({ start, end }: Interval): number => (end - start) / MINUTE_MS;

/** True where none may miss it: long enough, and high enough over the threshold. */
export const isPlain = (one: Interval, signal: Signal): boolean =>
  minutesOf(one) >= PLAIN.minutes &&
  timeWeightedMean(signal, one) >= THRESHOLD_MMHG + PLAIN.overThresholdMmHg;

/** The kinds that cover an episode in truth, the longest first. */
function covered({ coverAt }: PatientTruth, { start, end }: Interval): string {
  const seconds = new Map<string, number>();
  for (let t = Math.ceil((start - START_MS) / 1000); t <= (end - START_MS) / 1000; t++) {
    const kind = coverAt(t);
    seconds.set(kind, (seconds.get(kind) ?? 0) + 1);
  }
  return [...seconds]
    .sort(([, a], [, b]) => b - a)
    .slice(0, NAMED)
    .map(([kind]) => kind)
    .join(', ');
}

/** Time of an episode that marks of one sort cover, milliseconds. */
const coveredMs = (one: Interval, marks: readonly Mark[]): number =>
  totalMs(intersect([{ start: one.start, end: one.end }], unite(marks)));

/** The rule whose marks cover most of an episode; blank where none does. */
function mostMarkedBy(one: Interval, marks: readonly Mark[]): string {
  const shares = [...new Set(marks.map(({ rule }) => rule))].map(
    (rule) =>
      [
        rule,
        coveredMs(
          one,
          marks.filter((mark) => mark.rule === rule),
        ),
      ] as const,
  );
  const [rule, ms] = shares.reduce((a, b) => (b[1] > a[1] ? b : a), ['', 0] as const);
  return ms > 0 ? rule : '';
}

/** Rows of the true episodes that were missed and of those that were invented, in time order. */
export function episodeRows(
  where: Where,
  truth: PatientTruth,
  found: readonly Interval[],
  cleaned: Signal,
  icpMarks: readonly Mark[],
): EpisodeRow[] {
  const near = (one: Interval) => icpMarks.filter((mark) => mark.start < one.end && one.start < mark.end);
  const row = (one: Interval, state: EpisodeRow['state'], signal: Signal): EpisodeRow => ({
    ...where,
    state,
    startSecond: Math.round((one.start - START_MS) / 1000),
    minutes: Math.round(minutesOf(one) * 100) / 100,
    meanMmHg: Math.round(timeWeightedMean(signal, one) * 10) / 10,
    truth: covered(truth, one),
    rule: mostMarkedBy(one, near(one)),
  });
  const missed = missedOf(truth.episodes, found).map((one) =>
    row(one, isPlain(one, truth.signal) ? 'missed' : 'missedBorderline', truth.signal),
  );
  const invented = inventedOf(found, truth.episodes).map((one) => {
    const isNear = inventedOf([one], truth.nearly).length === 0;
    const suspect = near(one).filter(({ grade }) => grade === 'suspect');
    const isHatched = 2 * coveredMs(one, suspect) >= one.end - one.start;
    return row(one, isNear ? 'inventedBorderline' : isHatched ? 'inventedHatched' : 'invented', cleaned);
  });
  return [...missed, ...invented].sort((a, b) => a.startSecond - b.startSecond);
}
