import { START_MS } from '../../../fixtures/labelled/start.js';
import type { LabelledPatient } from '../../../fixtures/labelled/types.js';
import { wholeOf } from '../../../src/recording/pieces.js';
import type { Signal } from '../../../src/recording/signal.js';
import { type Episode, findEpisodes } from '../../../src/segment/episodes.js';
import { doseAboveMmHgHours } from '../../../src/summarize/dose.js';
import { monitoredHours } from '../../../src/summarize/time.js';
import { EPISODES, NEARLY, THRESHOLD_MMHG } from '../settings.js';
import { isAtCeiling } from './at-ceiling.js';

/** What is true of a patient, whatever the sampling. */
export interface PatientTruth {
  readonly signal: Signal;
  readonly hours: number;
  readonly doseMmHgHours: number;
  readonly episodes: readonly Episode[];
  /** Stretches that are nearly episodes, and all episodes. */
  readonly nearly: readonly Episode[];
  /** For each second the true event that is on, or `baseline`. */
  readonly eventAt: (second: number) => string;
  /** What covers a second of ICP: the kind of artifact, otherwise the event. */
  readonly coverAt: (second: number) => string;
}

/**
 * The true ICP as x(t), a sample a second, unknown wherever a lost second touches it. At the ceiling of a channel nothing
 * is lost: the pressure was at least that high, and the headline keeps it.
 */
export function trueSignal({ trueIcp, lost, labels, artifacts }: LabelledPatient): Signal {
  const known = new Uint8Array(trueIcp.length);
  const isLost = (i: number): boolean => {
    const artifact = labels.icp[i] > 0 ? artifacts[labels.icp[i] - 1] : null;
    return lost[i] === 1 && !(artifact && isAtCeiling(artifact));
  };
  for (let i = 0; i + 1 < known.length; i++) known[i] = isLost(i) || isLost(i + 1) ? 0 : 1;
  return { times: Float64Array.from(trueIcp, (_, i) => START_MS + i * 1000), values: trueIcp, known };
}

/** Reads the truth with the project's own measures; those are checked elsewhere, against other programs. */
export function truthOf(patient: LabelledPatient): PatientTruth {
  const signal = trueSignal(patient);
  const { plan, labels, artifacts } = patient;
  const eventAt = (second: number): string =>
    plan.events.find(({ start, end }) => start <= second && second <= end)?.kind ?? 'baseline';
  return {
    signal,
    hours: monitoredHours(signal, wholeOf(signal)),
    doseMmHgHours: doseAboveMmHgHours(signal, wholeOf(signal), THRESHOLD_MMHG),
    episodes: findEpisodes(signal, EPISODES).episodes,
    nearly: findEpisodes(signal, NEARLY).episodes,
    eventAt,
    coverAt: (second) => (labels.icp[second] > 0 ? artifacts[labels.icp[second] - 1].kind : eventAt(second)),
  };
}
