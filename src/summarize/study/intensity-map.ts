import type { Figure } from '../figure.js';
import { insist } from '../statistics/estimate.js';
import { Resampler } from '../statistics/resampler.js';
import { spearmanRho } from '../statistics/spearman.js';
import type { IntensityGrid } from './intensity-grid.js';
import { type SortedCell, sortedCell, WeightedOutcome } from './sign-stability.js';
import { zeroCrossings } from './zero-line.js';

/** Fewer patients with such an episode leave a cell blank. */
export const LEAST_WITH_EPISODE = 10;
/** A cell is stable where at least this share of resamples has its sign. */
export const STABLE_SHARE = 0.95;

/** What a patient brings to the map. */
export interface MapPatient {
  /** Higher is better. */
  readonly outcome: number;
  /** Of the channel in the window, above 0. */
  readonly monitoredHours: number;
  /** As `episodeCounts` gives them. */
  readonly counts: ArrayLike<number>;
  /** Index of the shortest duration that the sampling of this patient can show (`firstResolvable`). */
  readonly firstDuration: number;
}

/** A correlation with outcome over patients. */
export interface CellCorrelation {
  readonly rho: Figure;
  /** Of resamples of patients. */
  readonly sameSignShare: Figure;
  readonly isStable: boolean;
}

/** A cell of the map. */
export interface MapCell {
  readonly intensityMmHg: number;
  readonly durationMinutes: number;
  /** Patients whose sampling can show episodes this short. */
  readonly patients: number;
  readonly withEpisode: number;
  /** Of the number of episodes, and of their number per monitored day. */
  readonly count: CellCorrelation;
  readonly perDay: CellCorrelation;
}

/** Durations at which the correlation changes its sign, by intensity. */
export interface ZeroLine {
  readonly intensityMmHg: number;
  readonly countMinutes: readonly number[];
  readonly perDayMinutes: readonly number[];
}

/** The map of a unit. */
export interface IntensityMap extends IntensityGrid {
  readonly resamples: number;
  /** Cell of intensity k and duration d at k x durations + d. */
  readonly cells: readonly MapCell[];
  readonly zeroLine: readonly ZeroLine[];
}

const FORMS = ['count', 'perDay'] as const;
type Form = (typeof FORMS)[number];
const HOURS_PER_DAY = 24;

/** A cell that gets a correlation, and how often its sign came back. */
interface Judged {
  readonly sorted: SortedCell;
  readonly rho: number;
  sign: number;
  same: number;
}

const blank = (reason: string): CellCorrelation => ({
  rho: { reason },
  sameSignShare: { reason },
  isStable: false,
});

const valuesOf = (form: Form, patients: readonly MapPatient[], cell: number): Float64Array =>
  Float64Array.from(patients, ({ counts, monitoredHours }) =>
    form === 'count' ? counts[cell] : (counts[cell] * HOURS_PER_DAY) / monitoredHours,
  );

function judgedOrReason(values: Float64Array, outcomes: Float64Array, withEpisode: number): Judged | string {
  if (withEpisode < LEAST_WITH_EPISODE) {
    return `${withEpisode} patients have such an episode, and a correlation needs ${LEAST_WITH_EPISODE}`;
  }
  const rho = spearmanRho(values, outcomes);
  return typeof rho === 'number' ? { sorted: sortedCell(values), rho, sign: 0, same: 0 } : rho.reason;
}

/** Counts in how many resamples each cell has its sign; the same patients have all of these cells. */
function countSameSigns(
  judged: readonly Judged[],
  outcomes: Float64Array,
  places: readonly number[],
  draws: { readonly counts: Uint16Array; readonly resamples: number; readonly clusters: number },
): void {
  const weighted = new WeightedOutcome(outcomes);
  weighted.weigh(() => 1);
  for (const one of judged) one.sign = weighted.signOf(one.sorted);
  for (let i = 0; i < draws.resamples; i++) {
    const at = i * draws.clusters;
    weighted.weigh((k) => draws.counts[at + places[k]]);
    for (const one of judged) if (weighted.signOf(one.sorted) === one.sign) one.same++;
  }
}

function correlationOf(judged: Judged | string, resamples: number): CellCorrelation {
  if (typeof judged === 'string') return blank(judged);
  const { rho, sign, same } = judged;
  if (sign === 0) {
    return { rho: 0, sameSignShare: { reason: 'the correlation is 0 and has no sign' }, isStable: false };
  }
  const share = same / resamples;
  return { rho, sameSignShare: share, isStable: share >= STABLE_SHARE };
}

/**
 * The map of episodes and outcome: in each cell Spearman's correlation, over patients, of their number of episodes past an
 * intensity that last at least a duration with their outcome; blank under 10 patients with such an episode. A cell is of the
 * patients whose sampling can show episodes so short. Patients, as wholes, are drawn with replacement as often as asked; a
 * cell is stable where 95 % of the draws have its sign. That is no test: hundreds of neighbouring cells share their patients.
 * Source: Guiza et al., Intensive Care Med 2015;41:1067-76; draws: Davison & Hinkley, Bootstrap Methods and their
 * Application, 1997; 95 %: own convention.
 *
 * @throws RangeError where a patient has no monitored time, other counts than the grid has cells, or an outcome that is no
 * number
 */
export function intensityMap(
  { intensitiesMmHg, durationsMinutes }: IntensityGrid,
  patients: readonly MapPatient[],
  { resamples, seed }: { readonly resamples: number; readonly seed: number },
): IntensityMap {
  const [rows, columns] = [intensitiesMmHg.length, durationsMinutes.length];
  for (const { counts, monitoredHours, outcome } of patients) {
    insist(counts.length === rows * columns, 'a count for each cell of the grid');
    insist(monitoredHours > 0 && Number.isFinite(outcome), 'monitored time and an outcome of each patient');
  }
  insist(Number.isInteger(resamples) && resamples >= 1, `one resample or more, and got ${resamples}`);
  const draws = {
    counts: new Resampler(resamples, seed).counts(patients.length),
    resamples,
    clusters: patients.length,
  };
  const cells = new Array<MapCell>(rows * columns);
  for (const span of sameSpans(durationsMinutes.length, patients)) {
    const places = [...patients.keys()].filter((i) => patients[i].firstDuration <= span.from);
    const there = places.map((i) => patients[i]);
    const outcomes = Float64Array.from(there, ({ outcome }) => outcome);
    const found: { at: number; withEpisode: number; of: Record<Form, Judged | string> }[] = [];
    for (let k = 0; k < rows; k++) {
      for (let d = span.from; d < span.to; d++) {
        const at = k * columns + d;
        const withEpisode = there.filter(({ counts }) => counts[at] > 0).length;
        const judge = (form: Form): Judged | string =>
          judgedOrReason(valuesOf(form, there, at), outcomes, withEpisode);
        found.push({ at, withEpisode, of: { count: judge('count'), perDay: judge('perDay') } });
      }
    }
    const judged = found.flatMap(({ of }) => FORMS.map((form) => of[form]));
    countSameSigns(
      judged.filter((one) => typeof one !== 'string'),
      outcomes,
      places,
      draws,
    );
    for (const { at, withEpisode, of } of found) {
      cells[at] = {
        intensityMmHg: intensitiesMmHg[Math.floor(at / columns)],
        durationMinutes: durationsMinutes[at % columns],
        patients: there.length,
        withEpisode,
        count: correlationOf(of.count, resamples),
        perDay: correlationOf(of.perDay, resamples),
      };
    }
  }
  const zeroLine = intensitiesMmHg.map((intensityMmHg, k): ZeroLine => {
    const along = (form: Form): number[] =>
      zeroCrossings(
        durationsMinutes,
        cells
          .slice(k * columns, (k + 1) * columns)
          .map(({ [form]: { rho } }) => (typeof rho === 'number' ? rho : null)),
      );
    return { intensityMmHg, countMinutes: along('count'), perDayMinutes: along('perDay') };
  });
  return { intensitiesMmHg, durationsMinutes, resamples, cells, zeroLine };
}

/** Runs of durations that the same patients can show. */
function sameSpans(durations: number, patients: readonly MapPatient[]): { from: number; to: number }[] {
  const inside = patients.map(({ firstDuration }) => firstDuration).filter((d) => d > 0 && d < durations);
  const edges = [...new Set([0, ...inside, durations])].sort((a, b) => a - b);
  return edges.slice(1).map((to, i) => ({ from: edges[i], to }));
}
