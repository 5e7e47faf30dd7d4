import type { Interval } from '../../src/recording/interval.js';
import type { Signal } from '../../src/recording/signal.js';
import { everySeconds, T0, through } from './signals.js';

/** A window given in seconds after T0. */
export const seconds = (from: number, to: number): Interval => ({
  start: T0 + from * 1000,
  end: T0 + to * 1000,
});

/** An hour that rises from 10 to 34 mmHg in the first half and falls back in the second. */
export const TRIANGLE: Signal = through([
  [0, 10],
  [1800, 34],
  [3600, 10],
]);

/** An hour that rises steadily from 0 to 36 mmHg, a sample a minute. */
export const RAMP: Signal = everySeconds(
  60,
  Array.from({ length: 61 }, (_, i) => i * 0.6),
);

/** 12 mmHg for 20 min, 30 mmHg for 40 min; the step takes one second. */
export const STEP: Signal = through([
  [0, 12],
  [1199, 12],
  [1200, 30],
  [3600, 30],
]);

/** Two hours of a sine around `mean`, period 10 min, a sample a second. */
export function sine(mean: number, amplitude: number): Signal {
  const values = Array.from({ length: 7201 }, (_, i) => mean + amplitude * Math.sin((2 * Math.PI * i) / 600));
  return everySeconds(1, values);
}
