import type { Rule } from '../../../src/clean/rule.js';
import type { Sighting, WaveKind } from '../../../src/recording/waveform.js';
import { WAVE_START } from '../../support/waves.js';

/** How samples are handed to a rule. */
export interface Watching {
  readonly kind?: WaveKind;
  readonly perSecond?: number;
  readonly parameters?: object;
  /** Where blocks end, as indices of samples; one block a second where left out. */
  readonly cuts?: readonly number[];
  /** Holes are before these samples. */
  readonly holes?: readonly number[];
}

/** What a rule sees in evenly spaced samples of a waveform. */
export function watched(rule: Rule, samples: ArrayLike<number>, watching: Watching = {}): Sighting[] {
  const { kind = 'icp', perSecond = 125, parameters = {}, cuts, holes = [] } = watching;
  const seen: Sighting[] = [];
  const values = Float64Array.from(samples);
  const times = values.map((_, i) => WAVE_START + (i * 1000) / perSecond);
  const watcher = rule.watch!(
    { kind, intervalMs: 1000 / perSecond },
    rule.parameters.parse(parameters),
    (sighting) => seen.push(sighting),
  );
  const seconds = Array.from({ length: Math.ceil(values.length / perSecond) }, (_, s) => (s + 1) * perSecond);
  const ends = [...new Set([...(cuts ?? seconds), ...holes, values.length])]
    .filter((end) => end > 0 && end <= values.length)
    .sort((a, b) => a - b);
  let from = 0;
  for (const end of ends) {
    if (holes.includes(from)) watcher.part();
    watcher.take(times.subarray(from), values.subarray(from), end - from);
    from = end;
  }
  watcher.finish();
  return seen;
}

/** Sightings as [first, last] whole seconds after the start. */
export const secondsOf = (sightings: readonly Sighting[]): [number, number][] =>
  sightings.map(({ from, to }) => [
    Math.floor((from - WAVE_START) / 1000),
    Math.floor((to - WAVE_START) / 1000),
  ]);

/** Samples of a function of time in seconds, in steps of a monitor. */
export const sampled = (
  f: (t: number) => number,
  seconds: number,
  perSecond = 125,
  stepsPerMmHg = 10,
): number[] =>
  Array.from(
    { length: seconds * perSecond },
    (_, i) => Math.round(f(i / perSecond) * stepsPerMmHg) / stepsPerMmHg,
  );

/** The same samples with some replaced. */
export const changed = (
  samples: readonly number[],
  from: number,
  count: number,
  value: number | ((sample: number, k: number) => number),
): number[] =>
  samples.map((sample, i) => {
    if (i < from || i >= from + count) return sample;
    return typeof value === 'number' ? value : value(sample, i - from);
  });
