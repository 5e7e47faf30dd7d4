/** What went wrong with a kind in one patient, with the values around it: for tuning rules, on the tuning set. */
import type { SamplingSeconds } from '../../fixtures/labelled/evaluation-set.js';
import { labelledPatient } from '../../fixtures/labelled/labelled-patient.js';
import { START_MS } from '../../fixtures/labelled/start.js';
import type { ArtifactChannel, LabelledPatient } from '../../fixtures/labelled/types.js';
import { unmarked } from './measure/artifact-rows.js';
import { type Measured, measureSampling, rowsOf } from './measure/measure-sampling.js';
import { wrongStretches } from './measure/true-rows.js';
import { truthOf } from './measure/truth-of.js';

/** `kind`: a kind of artifact or true event, `high`, `quiet`, `missed` or `invented`. */
export interface Look {
  readonly seed: number;
  readonly samplingSeconds: SamplingSeconds;
  readonly kind: string;
}

export interface Sight {
  readonly seed: number;
  readonly samplingSeconds: number;
  readonly atSecond: number;
  readonly wrongSeconds: number;
  readonly says: string;
  /** Rules that marked something from a minute before to a minute after. */
  readonly rules: string;
  readonly care: string;
  readonly resolution: number;
  /** What was shown, and the truth where it is another value. */
  readonly values: string;
}

const SHOWN_VALUES = 40;

/** So many values of a channel around a stretch; `7/12` is 7 shown for a truth of 12. */
function valuesAround(patient: LabelledPatient, channel: ArtifactChannel, from: number, to: number): string {
  const shown = patient.shown[channel];
  const truth = channel === 'map' ? patient.trueMap : patient.trueIcp;
  if (!shown || !truth) return '';
  const margin = Math.max(5, Math.round((to - from) / 4));
  const [first, last] = [Math.max(0, from - margin), Math.min(shown.length - 1, to + margin)];
  const step = Math.max(1, Math.ceil((last - first) / SHOWN_VALUES));
  const values: string[] = [];
  for (let i = first; i <= last; i += step) {
    const mark = i < from || i > to ? '.' : '';
    const other = shown[i] === truth[i] ? '' : `/${truth[i].toFixed(0)}`;
    values.push(`${shown[i].toFixed(0)}${other}${mark}`);
  }
  return `every ${step} s: ${values.join(' ')}`;
}

function rulesAround({ cleaning, grid }: Measured, channel: string, from: number, to: number): string {
  const [start, end] = [grid.startMs + (from - 60) * 1000, grid.startMs + (to + 60) * 1000];
  const near = cleaning.marks.filter(
    (mark) => mark.channel === channel && mark.start <= end && start <= mark.end,
  );
  return [
    ...new Set(
      near.map(({ rule, grade, direction }) => `${rule} ${grade}${direction ? ` ${direction}` : ''}`),
    ),
  ].join(', ');
}

/** Entries of the care log from 12 min before to 3 min after the end: what it is and how far from the start. */
function careAround({ plan }: LabelledPatient, from: number, to: number): string {
  if (!plan.care) return 'no log';
  return plan.care
    .map(({ start, kinds }) => ({ kinds, second: (start - START_MS) / 1000 }))
    .filter(({ second }) => second >= from - 720 && second <= to + 180)
    .map(({ second, kinds }) => `${kinds.join(' and ')} at ${second - from} s`)
    .join(', ');
}

/** Looks at one patient and sampling. */
export function look({ seed, samplingSeconds, kind }: Look): Sight[] {
  const patient = labelledPatient(seed);
  const truth = truthOf(patient);
  const measured = measureSampling(patient, truth, samplingSeconds);
  const sight = (
    channel: ArtifactChannel,
    from: number,
    to: number,
    wrongSeconds: number,
    says: string,
  ): Sight => ({
    seed,
    samplingSeconds,
    atSecond: from,
    wrongSeconds,
    says,
    rules: rulesAround(measured, channel, from, to),
    care: careAround(patient, from, to),
    resolution: patient.plan.resolution,
    values: valuesAround(patient, channel, from, to),
  });
  if (kind === 'missed' || kind === 'invented') {
    return rowsOf(measured, patient, truth)
      .episodes.filter(({ state }) => state.startsWith(kind))
      .map((one) => {
        const says = `${one.state}, ${one.minutes} min, mean ${one.meanMmHg}, truth: ${one.truth}`;
        return sight('icp', one.startSecond, one.startSecond + one.minutes * 60, one.minutes * 60, says);
      });
  }
  const artifacts = measured.seen
    .filter((one) => one.artifact.kind === kind && unmarked(one) > 0)
    .map((one) => {
      const { start, end, channel, sizeMmHg, everySeconds, share, joltMmHg, grade, variant } = one.artifact;
      const says = `${kind} ${variant} (${grade}) for ${end - start + 1} s, size ${sizeMmHg.toFixed(1)}, every ${everySeconds.toFixed(1)}, share ${share.toFixed(2)}, MAP +${joltMmHg.toFixed(0)}; samples ${one.labelled}, removed ${one.removed}, suspect ${one.suspect}`;
      return sight(channel, start, end, unmarked(one) * samplingSeconds, says);
    });
  const trueKinds = [measured.high, measured.quiet].flatMap(wrongStretches);
  const isHigh = (one: { kind: string }): boolean => one.kind !== 'quiet';
  const wrong = trueKinds
    .filter((one) => one.kind === kind || (kind === 'high' && isHigh(one)))
    .map(({ kind: event, rule, atSecond, samples }) => {
      const seconds = samples * samplingSeconds;
      return sight('icp', atSecond, atSecond + seconds, seconds, `${event} marked by ${rule}`);
    });
  return [...artifacts, ...wrong];
}
