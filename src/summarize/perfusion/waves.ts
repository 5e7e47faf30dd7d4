import type { Interval } from '../../recording/interval.js';
import type { Signal } from '../../recording/signal.js';
import { type Episode, type EpisodeRule, findEpisodes } from '../../segment/episodes.js';
import { extremes, timeWeightedMean } from '../mean.js';
import { gridIn } from './bin-grid.js';
import { binMeans } from './bin-means.js';
import type { Sampled } from './reactivity.js';

/** Plateau (A) waves. Source: Lundberg, Acta Psychiatr Scand 1960. */
const PLATEAU_MMHG = 50;
/** Of an episode x is over its threshold, and of a plateau wave at 50 mmHg or more. */
const AT_LEAST = 1e-9;
const PLATEAU_MIN_SECONDS = 300;
const PLATEAU_MAX_MINUTES = 20;

/** The rule of the shortest plateau wave; dips and unknown stretches as those of an episode of ICP. */
export const PLATEAU_RULE: EpisodeRule = {
  threshold: PLATEAU_MMHG - AT_LEAST,
  side: 'above',
  minSeconds: PLATEAU_MIN_SECONDS,
  dipSeconds: 30,
  bridgeSeconds: 120,
};

/** A plateau wave with its pressures, mmHg. */
export interface PlateauWave extends Interval {
  readonly highestMmHg: number;
  readonly meanMmHg: number;
}

/** Plateau waves, and stretches that would be some if nothing were missing beside them. */
export interface PlateauWaves {
  readonly waves: readonly PlateauWave[];
  readonly cut: readonly Interval[];
}

/** Stretches of ICP at 50 mmHg or more for 5 to 20 min; what is longer is no wave, and what is cut off may be longer. */
export function plateauWaves(icp: Signal): PlateauWaves {
  const short = findEpisodes(icp, PLATEAU_RULE).episodes.filter(
    ({ start, end }) => end - start <= PLATEAU_MAX_MINUTES * 60_000,
  );
  const isCut = ({ openStart, openEnd }: Episode): boolean => openStart || openEnd;
  const waves = short.filter((wave) => !isCut(wave));
  return {
    waves: waves.map(({ start, end }) => {
      const span = { start, end };
      return { ...span, highestMmHg: extremes(icp, span).highest, meanMmHg: timeWeightedMean(icp, span) };
    }),
    cut: short.filter(isCut).map(({ start, end }) => ({ start, end })),
  };
}

const BIN_MS = 10_000;
const BINS = 60;
/** Of a whole turn in as many steps. */
const COSINES = Float64Array.from({ length: BINS }, (_, k) => Math.cos((2 * Math.PI * k) / BINS));
/** 0.5 to 2 waves a minute, as waves in 10 min. */
const SLOWEST = 5;
const FASTEST = 20;
/** A window in which more than this share is unknown tells nothing of its waves. */
const MOST_UNKNOWN = 0.1;

/** The list without the line through it by least squares, unknown values put onto the line. */
function withoutTrend(values: Float64Array): Float64Array {
  let [n, sumK, sumX] = [0, 0, 0];
  values.forEach((x, k) => {
    if (Number.isNaN(x)) return;
    n++;
    sumK += k;
    sumX += x;
  });
  const [meanK, meanX] = [sumK / n, sumX / n];
  let [squares, products] = [0, 0];
  values.forEach((x, k) => {
    if (Number.isNaN(x)) return;
    squares += (k - meanK) ** 2;
    products += (k - meanK) * (x - meanX);
  });
  const slope = products / squares;
  return values.map((x, k) => (Number.isNaN(x) ? 0 : x - meanX - slope * (k - meanK)));
}

/**
 * Amplitude of the band of 0.5 to 2 waves a minute in 60 means over 10 s: that of a sine with the band's power, half of
 * peak to peak. Band: Lundberg 1960; amplitude: own convention.
 *
 * @returns NaN where more than a tenth is unknown
 */
export function bandAmplitude(values: Float64Array): number {
  const unknown = values.reduce((count, x) => count + (Number.isNaN(x) ? 1 : 0), 0);
  if (unknown > MOST_UNKNOWN * values.length) return Number.NaN;
  const rest = withoutTrend(values);
  let power = 0;
  for (let waves = SLOWEST; waves <= FASTEST; waves++) {
    let [re, im] = [0, 0];
    for (let k = 0; k < BINS; k++) {
      const turn = (waves * k) % BINS;
      re += rest[k] * COSINES[turn];
      im += rest[k] * COSINES[(turn + BINS / 4) % BINS];
    }
    power += (re * re + im * im) * (2 / BINS) ** 2;
  }
  return Math.sqrt(power);
}

/** Windows of 10 min in which B waves could be looked for, and how many had them. */
export interface BWaves {
  readonly windows: number;
  readonly windowsWith: number;
}

/** At least so high, mmHg (own convention). */
export const B_WAVE_MMHG = 5;

/** Counts the windows on whole UTC 10 min inside the window whose band is 5 mmHg high or more. */
export function bWavesIn({ signal, intervalMs }: Sampled, window: Interval): BWaves {
  const length = BINS * BIN_MS;
  const grid = gridIn({ start: Math.ceil(window.start / length) * length, end: window.end }, BIN_MS);
  const means = binMeans(signal, intervalMs, grid);
  let [windows, windowsWith] = [0, 0];
  for (let at = 0; at + BINS <= means.length; at += BINS) {
    const amplitude = bandAmplitude(means.subarray(at, at + BINS));
    if (Number.isNaN(amplitude)) continue;
    windows++;
    if (amplitude >= B_WAVE_MMHG) windowsWith++;
  }
  return { windows, windowsWith };
}
