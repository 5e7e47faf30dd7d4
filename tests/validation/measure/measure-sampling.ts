import { type SamplingSeconds, SECONDS } from '../../../fixtures/labelled/evaluation-set.js';
import { sampled } from '../../../fixtures/labelled/sampled.js';
import { START_MS } from '../../../fixtures/labelled/start.js';
import type { ArtifactChannel, LabelledPatient } from '../../../fixtures/labelled/types.js';
import { type Cleaning, clean, cleanedSignal } from '../../../src/clean/clean.js';
import { wholeOf } from '../../../src/recording/pieces.js';
import { type Recording, rawSignal } from '../../../src/recording/recording.js';
import { type Signal, withoutIntervals } from '../../../src/recording/signal.js';
import { type Episode, findEpisodes } from '../../../src/segment/episodes.js';
import { doseAboveMmHgHours } from '../../../src/summarize/dose.js';
import { monitoredHours } from '../../../src/summarize/time.js';
import { DEFAULTS, EPISODES, THRESHOLD_MMHG } from '../settings.js';
import { artifactRows, type Seen, seeArtifacts } from './artifact-rows.js';
import { type Coverage, coverageOf, type Grid } from './coverage.js';
import { episodeRows, isPlain } from './episode-rows.js';
import { excessRows } from './excess-rows.js';
import { idealSignal } from './ideal.js';
import { missedOf } from './match-episodes.js';
import type { EpisodeRow, RecordingRow, Rows, Where } from './rows.js';
import { ruleRows, type SampleTruth } from './rule-rows.js';
import type { TrueSamples } from './true-rows.js';
import { trueRows } from './true-rows.js';
import type { PatientTruth } from './truth-of.js';

const CHANNELS: readonly ArtifactChannel[] = ['icp', 'icpDrain', 'map'];

/** Six decimals: far finer than any monitor, and the same on every machine. */
const sixDecimals = (value: number): number => Math.round(value * 1e6) / 1e6;

/** One patient rendered at one sampling, and what the rules said of it. */
export interface Measured {
  readonly where: Where;
  readonly grid: Grid;
  readonly recording: Recording;
  readonly cleaning: Cleaning;
  readonly coverage: Readonly<Record<ArtifactChannel, Coverage>>;
  readonly seen: readonly Seen[];
  /** True high ICP and all other samples without a label. */
  readonly high: TrueSamples;
  readonly quiet: TrueSamples;
}

/** Runs all rules with their defaults over one rendering, and holds the marks against the labels. */
export function measureSampling(
  patient: LabelledPatient,
  truth: PatientTruth,
  samplingSeconds: SamplingSeconds,
): Measured {
  const recording = sampled(patient, samplingSeconds);
  const cleaning = clean(recording, DEFAULTS);
  const rules = cleaning.rulesOn;
  const grid = {
    startMs: START_MS,
    everySeconds: samplingSeconds,
    count: Math.ceil(SECONDS / samplingSeconds),
  };
  const [icp, icpDrain, map] = CHANNELS.map((channel) => coverageOf(cleaning.marks, channel, rules, grid));
  const coverage = { icp, icpDrain, map };
  const { artifacts, labels, trueIcp } = patient;
  const seen = CHANNELS.flatMap((channel) => {
    const own = labels[channel];
    return own ? seeArtifacts(artifacts, channel, own, coverage[channel], grid) : [];
  });
  const at = (i: number): number => i * samplingSeconds;
  const isHigh = (i: number): boolean => trueIcp[at(i)] > THRESHOLD_MMHG;
  // The beginning of a drift has no label and is not the truth either: it counts on neither side.
  const isTrue = (i: number): boolean =>
    labels.icp[at(i)] === 0 && patient.shown.icp[at(i)] === trueIcp[at(i)];
  const truthful = { coverage: icp, rules, grid };
  return {
    where: { seed: patient.plan.seed, samplingSeconds },
    grid,
    recording,
    cleaning,
    coverage,
    seen,
    high: {
      ...truthful,
      kindAt: (i) => (isTrue(i) && isHigh(i) ? truth.eventAt(at(i)) : null),
    },
    quiet: { ...truthful, kindAt: (i) => (isTrue(i) && !isHigh(i) ? 'quiet' : null) },
  };
}

const hoursAndDose = (signal: Signal): [number, number] => [
  sixDecimals(monitoredHours(signal, wholeOf(signal))),
  sixDecimals(doseAboveMmHgHours(signal, wholeOf(signal), THRESHOLD_MMHG)),
];

function recordingRow(
  { where, recording, cleaning }: Measured,
  patient: LabelledPatient,
  truth: PatientTruth,
  cleaned: Signal,
  episodes: readonly EpisodeRow[],
  foundEpisodes: number,
): RecordingRow {
  const [rawHours, rawDoseMmHgHours] = hoursAndDose(rawSignal(recording, 'icp'));
  const [cleanedHours, cleanedDoseMmHgHours] = hoursAndDose(cleaned);
  const icpMarks = cleaning.marks.filter(({ channel }) => channel === 'icp');
  const [trustedHours, trustedDoseMmHgHours] = hoursAndDose(
    withoutIntervals(rawSignal(recording, 'icp'), icpMarks),
  );
  const ideal = idealSignal(patient, rawSignal(recording, 'icp'));
  const [idealHours, idealDoseMmHgHours] = hoursAndDose(ideal);
  const isPlainHere = (one: Episode): boolean => isPlain(one, truth.signal);
  const of = (state: EpisodeRow['state']): number => episodes.filter((one) => one.state === state).length;
  return {
    ...where,
    resolutionMmHg: patient.plan.resolution,
    days: SECONDS / 86_400,
    trueHours: sixDecimals(truth.hours),
    trueDoseMmHgHours: sixDecimals(truth.doseMmHgHours),
    rawHours,
    rawDoseMmHgHours,
    cleanedHours,
    cleanedDoseMmHgHours,
    trustedHours,
    trustedDoseMmHgHours,
    idealHours,
    idealDoseMmHgHours,
    trueEpisodes: truth.episodes.length,
    plainEpisodes: truth.episodes.filter(isPlainHere).length,
    missed: of('missed'),
    missedBorderline: of('missedBorderline'),
    missedByIdeal: missedOf(truth.episodes, findEpisodes(ideal, EPISODES).episodes).filter(isPlainHere)
      .length,
    foundEpisodes,
    invented: of('invented'),
    inventedHatched: of('inventedHatched'),
    inventedBorderline: of('inventedBorderline'),
  };
}

/** The rows of one rendering. */
export function rowsOf(measured: Measured, patient: LabelledPatient, truth: PatientTruth): Rows {
  const { where, recording, cleaning, coverage, seen, high, quiet, grid } = measured;
  const cleaned = cleanedSignal(recording, 'icp', cleaning);
  const icpMarks = cleaning.marks.filter(({ channel }) => channel === 'icp');
  const found = findEpisodes(cleaned, EPISODES).episodes;
  const episodes = episodeRows(where, truth, found, cleaned, icpMarks);
  const rules = CHANNELS.flatMap((channel) => {
    const labels = patient.labels[channel];
    if (!labels) return [];
    const truthAt = (i: number): SampleTruth => {
      if (labels[i * grid.everySeconds] > 0) return 'labelled';
      return channel === 'icp' && high.kindAt(i) !== null ? 'high' : 'quiet';
    };
    return ruleRows(where, channel, cleaning.marks, coverage[channel], cleaning.rulesOn, truthAt);
  });
  return {
    kinds: [
      ...artifactRows(where, seen),
      ...trueRows(where, 'high', high),
      ...trueRows(where, 'quiet', quiet),
    ],
    recordings: [recordingRow(measured, patient, truth, cleaned, episodes, found.length)],
    episodes,
    rules,
    excess: excessRows(where, patient, icpMarks, grid),
  };
}
