import type { Signal } from '../../src/recording/signal.js';
import { listOf, noise, wandering } from './noise.js';
import { everySeconds } from './signals.js';

/** An invented patient whose vessels regulate between two limits of CPP and follow pressure beyond them. */
export interface Regulated {
  readonly icp: Signal;
  readonly map: Signal;
}

/** How far the range of regulation fades out, mmHg. */
const FADE_MMHG = 3;

/**
 * A sample every 10 s. MAP drifts so that CPP goes up and down between `from` and `to` in each sweep, with slow waves on it; ICP follows those waves outside the limits and goes against them inside.
 */
export function regulated(
  seed: number,
  hours: number,
  {
    lower,
    upper,
    from,
    to,
    sweepHours = hours,
  }: { lower: number; upper: number; from: number; to: number; sweepHours?: number },
): Regulated {
  const count = hours * 360;
  const waves = wandering(seed, 0.85);
  const own = noise(seed + 1);
  const drift = listOf(
    count,
    (i) => from + ((to - from) * (1 - Math.cos((2 * Math.PI * i) / (sweepHours * 360)))) / 2,
  );
  const wave = listOf(count, () => 3 * waves());
  const inside = (cpp: number): number =>
    1 / (1 + Math.exp(-(cpp - lower) / FADE_MMHG)) / (1 + Math.exp((cpp - upper) / FADE_MMHG));
  // What r is where as much of ICP's slow movement is its own as follows MAP: 0.25 lies at the limits.
  const follows = (cpp: number): number => 0.8 - 1.1 * inside(cpp);
  const icp = listOf(count, (i) => {
    const r = follows(drift[i]);
    return 12 + 1.5 * (r * (wave[i] / 3) + Math.sqrt(1 - r * r) * own());
  });
  const map = listOf(count, (i) => 12 + drift[i] + wave[i]);
  return { icp: everySeconds(10, [...icp]), map: everySeconds(10, [...map]) };
}
