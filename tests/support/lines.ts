import { firstAfter } from '../../src/recording/search.js';
import type { Signal } from '../../src/recording/signal.js';

/** The same x(t) with further samples on its known pieces; times that fall elsewhere add none. */
export function withSamplesOnTheLines({ times, values, known }: Signal, added: readonly number[]): Signal {
  const points = [...times].map((t, i) => ({ t, x: values[i], known: known[i] }));
  for (const t of new Set(added)) {
    const i = firstAfter(times, t) - 1;
    if (i < 0 || !known[i] || times[i] === t) continue;
    const share = (t - times[i]) / (times[i + 1] - times[i]);
    points.push({ t, x: values[i] + share * (values[i + 1] - values[i]), known: 1 });
  }
  points.sort((a, b) => a.t - b.t);
  return {
    times: Float64Array.from(points, ({ t }) => t),
    values: Float64Array.from(points, ({ x }) => x),
    known: Uint8Array.from(points, ({ known: isKnown }) => isKnown),
  };
}

/** The two signals that a cut at an instant leaves; a sample on the line stands at the cut in both. */
export function cutAt(signal: Signal, at: number): [Signal, Signal] {
  const whole = withSamplesOnTheLines(signal, [at]);
  const cut = firstAfter(whole.times, at);
  const left = {
    times: whole.times.slice(0, cut),
    values: whole.values.slice(0, cut),
    known: whole.known.slice(0, cut),
  };
  if (cut > 0) left.known[cut - 1] = 0;
  const first = cut > 0 && whole.times[cut - 1] === at ? cut - 1 : cut;
  const right = {
    times: whole.times.slice(first),
    values: whole.values.slice(first),
    known: whole.known.slice(first),
  };
  return [left, right];
}
