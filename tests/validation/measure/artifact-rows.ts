import type { Artifact } from '../../../fixtures/labelled/types.js';
import { groupBy } from '../group.js';
import type { Coverage, Grid } from './coverage.js';
import type { KindRow, Where } from './rows.js';

/** One artifact, counted in samples. */
export interface Seen {
  readonly artifact: Artifact;
  readonly labelled: number;
  readonly removed: number;
  /** Suspect and not removed. */
  readonly suspect: number;
}

/**
 * Counts the labelled samples of each artifact of a channel, and how they are marked.
 *
 * @param labels a value a second: 0, or 1 + the place in `artifacts`
 */
export function seeArtifacts(
  artifacts: readonly Artifact[],
  channel: string,
  labels: Int32Array,
  { removed, suspect }: Coverage,
  { everySeconds, count }: Grid,
): Seen[] {
  return artifacts.flatMap((artifact, at) => {
    if (artifact.channel !== channel) return [];
    const seen = { artifact, labelled: 0, removed: 0, suspect: 0 };
    const last = Math.min(count - 1, Math.floor(artifact.end / everySeconds));
    for (let i = Math.ceil(artifact.start / everySeconds); i <= last; i++) {
      if (labels[i * everySeconds] !== at + 1) continue;
      seen.labelled++;
      if (removed[i] > 0) seen.removed++;
      else if (suspect[i] > 0) seen.suspect++;
    }
    return [seen];
  });
}

const isHalf = (part: number, { labelled }: Seen): boolean => labelled > 0 && 2 * part >= labelled;

/** Labelled samples that are not marked as they should be; for grade suspect either mark will do. */
export const unmarked = ({ artifact, labelled, removed, suspect }: Seen): number =>
  labelled - removed - (artifact.grade === 'suspect' ? suspect : 0);

/** A row a kind and truth grade of what was seen on all channels of a rendering. */
export function artifactRows(where: Where, seen: readonly Seen[]): KindRow[] {
  const groups = groupBy(seen, ({ artifact: { kind, grade } }) => `${kind} ${grade}`);
  return [...groups.values()].map((group): KindRow => {
    const { kind, grade } = group[0].artifact;
    const events = (test: (one: Seen) => boolean): number => group.filter(test).length;
    const seconds = (of: (one: Seen) => number): number =>
      where.samplingSeconds * group.reduce((sum, one) => sum + of(one), 0);
    const worst = group.reduce((a, b) => (unmarked(b) > unmarked(a) ? b : a));
    const isWorst = unmarked(worst) > 0;
    return {
      ...where,
      what: 'artifact',
      kind,
      grade,
      events: group.length,
      eventsHolding: events(({ labelled }) => labelled > 0),
      eventsRemoved: events((one) => isHalf(one.removed, one)),
      eventsSuspect: events((one) => isHalf(one.suspect, one)),
      eventsEither: events((one) => isHalf(one.removed + one.suspect, one)),
      seconds: seconds(({ labelled }) => labelled),
      secondsRemoved: seconds(({ removed }) => removed),
      secondsSuspect: seconds(({ suspect }) => suspect),
      worstAtSecond: isWorst ? worst.artifact.start : null,
      worstSeconds: isWorst ? unmarked(worst) * where.samplingSeconds : null,
      worstRule: '',
    };
  });
}
