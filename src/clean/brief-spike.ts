import { z } from 'zod';
import type { Signal } from '../recording/signal.js';
import { levelsAround } from './levels.js';
import { rhythmAround } from './rhythm.js';
import { type Mark, NOTHING, rule } from './rule.js';
import type { Run } from './runs.js';
import { tooCoarse } from './sampling-limit.js';

const COARSEST_SECONDS = 20;

/**
 * Coughing, straining, turning: ICP rises by 8 mmHg or more over its baseline and is back within 60 s. Baseline is
 * the higher of the medians of the 2 min before and after, so that a rise that stays is no spike. Rhythmic
 * excursions stay. Removed. Needs samples every 20 s. Common practice, no source: such a rise can reach 30 mmHg or so
 * and falls back at once.
 */
export const briefSpike = rule({
  name: 'briefSpike',
  title: 'brief spikes (cough, strain, turn)',
  parameters: z.strictObject({
    riseMmHg: z.number().positive().default(8),
    maxSeconds: z.number().positive().default(60),
    baselineSeconds: z.number().positive().default(120),
    rhythm: z.number().min(0).max(1).default(0.5),
  }),
  find(recording, parameters) {
    const channel = recording.channels.icp;
    if (!channel) return NOTHING;
    const coarse = tooCoarse(channel, COARSEST_SECONDS);
    if (coarse) return { marks: [], stoodAside: [coarse] };
    const { signal } = channel;
    const marks = spikes(signal, parameters)
      .filter(({ first, last }) => {
        const middle = (signal.times[first] + signal.times[last]) / 2;
        return rhythmAround(signal, middle) < parameters.rhythm;
      })
      .map(({ first, last }): Mark => {
        const span = { start: signal.times[first], end: signal.times[last] };
        return { channel: 'icp', rule: 'briefSpike', grade: 'removed', ...span };
      });
    return { marks, stoodAside: [] };
  },
});

function spikes(
  signal: Signal,
  {
    riseMmHg,
    maxSeconds,
    baselineSeconds,
  }: { riseMmHg: number; maxSeconds: number; baselineSeconds: number },
): Run[] {
  const { times, values, known } = signal;
  const { before, after } = levelsAround(signal, baselineSeconds);
  const half = riseMmHg / 2;
  const higher = (a: number, b: number): number =>
    Number.isNaN(a) ? b : Number.isNaN(b) ? a : Math.max(a, b);
  const found: Run[] = [];
  for (let i = 1; i < values.length; i++) {
    // A spike starts where half of the rise is passed, seen from the time before.
    if (!(values[i] >= before[i] + half)) continue;
    let peak = values[i];
    let end = i + 1;
    let baseline = Number.NaN;
    for (; end < values.length && known[end - 1] && times[end] - times[i] <= maxSeconds * 1000; end++) {
      baseline = higher(before[i], after[end]);
      if (values[end] < baseline + half) break;
      peak = Math.max(peak, values[end]);
    }
    const isBack = end < values.length && known[end - 1] === 1 && times[end] - times[i] <= maxSeconds * 1000;
    if (!isBack || peak < baseline + riseMmHg) continue;
    // Already up before: the end of a rise that lasts longer, which has to stay whole. Not up yet: on a rise that
    // stays, the sample before the spike.
    if (values[i - 1] >= baseline + half || values[i] < baseline + half) continue;
    const run = withFlanks(
      values,
      { first: i, last: end - 1 },
      baseline + riseMmHg / 4,
      i - (found.at(-1)?.last ?? 0),
    );
    found.push(run);
    i = run.last;
  }
  return found;
}

/** The spike with the samples on its flanks that are still on their way from or to the baseline. */
function withFlanks(values: Float64Array, { first, last }: Run, level: number, room: number): Run {
  const FLANK_SAMPLES = 5;
  let from = first;
  while (
    from > 0 &&
    first - from < Math.min(FLANK_SAMPLES, room - 1) &&
    values[from - 1] > level &&
    values[from - 1] < values[from]
  ) {
    from--;
  }
  let to = last;
  while (
    to + 1 < values.length &&
    to - last < FLANK_SAMPLES &&
    values[to + 1] > level &&
    values[to + 1] < values[to]
  )
    to++;
  return { first: from, last: to };
}
