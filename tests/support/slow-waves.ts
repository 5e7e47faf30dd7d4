import { mersenne } from 'pure-rand/generator/mersenne';

/** Invented series a sample a second, that follow each other by so much and so late, each with fluctuations of its own. */
export interface Invented {
  readonly icp: Float64Array;
  readonly map: Float64Array;
}

/** Mean 0, standard deviation 1, without a logarithm; of a generator whose streams do not go together at any lag. */
export function bells(seed: number): () => number {
  const generator = mersenne(seed);
  const unit = (): number => (generator.next() >>> 0) / 0x1_0000_0000;
  return () => 2 * (unit() + unit() + unit() - 1.5);
}

/** Noise that remembers: autoregressive, half forgotten after so many seconds; standard deviation 1. */
export function remembering(length: number, halfSeconds: number, bell: () => number): Float64Array {
  const keep = 0.5 ** (1 / halfSeconds);
  const fresh = Math.sqrt(1 - keep * keep);
  const out = new Float64Array(length);
  let x = bell();
  for (let i = 0; i < length; i++) {
    out[i] = x;
    x = keep * x + fresh * bell();
  }
  return out;
}

/**
 * ICP and MAP over some hours: drift over half an hour in each, slow fluctuations of MAP, and an ICP that takes a share
 * of them. `mapLate` seconds is how much later MAP is written than it happened.
 */
export function invented(seed: number, hours: number, share: number, mapLate = 0): Invented {
  const length = hours * 3600 + 1;
  const bell = bells(seed);
  const most = 1200;
  const wave = remembering(length + 2 * most, 15, bell);
  const [ofIcp, ofMap] = [remembering(length, 15, bell), remembering(length, 15, bell)];
  const [driftIcp, driftMap] = [remembering(length, 1800, bell), remembering(length, 1800, bell)];
  const rest = Math.sqrt(1 - share * share);
  return {
    icp: ofIcp.map((x, i) => 12 + 2 * driftIcp[i] + 1.5 * (share * wave[most + i] + rest * x) + 0.3 * bell()),
    map: ofMap.map(
      (x, i) => 85 + 5 * driftMap[i] + 4 * (share * wave[most + i - mapLate] + rest * x) + 0.5 * bell(),
    ),
  };
}
