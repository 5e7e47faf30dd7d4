import type { Spectrum } from './spectrum.js';

/** Heart rates from 40 to 198 a minute, Hz. */
export const SLOWEST_HZ = 0.67;
export const FASTEST_HZ = 3.3;
/** Breathing is looked for from here on. */
const SLOWEST_BREATH_HZ = 0.1;
/** Two peaks this close are one: about the width of a line of 10 s. */
const SAME_HZ = 0.07;
/** A pulse stands off from the floor of the spectrum by this factor; noise alone does so less than once in a million windows. */
const CLEAR = 8;
/** A harmonic of breathing is smaller than its fundamental by this factor at least. */
const OVER_HARMONIC = 2;
/** A peak with this share of another one is no leak and no ripple. */
const LARGE_SHARE = 0.3;

interface Peak {
  readonly hz: number;
  readonly amplitude: number;
}

function peaksFrom(spectrum: Spectrum, lowHz: number, highHz: number): Peak[] {
  const { amplitudes, stepHz } = spectrum;
  const peaks: Peak[] = [];
  const last = Math.min(amplitudes.length - 2, Math.floor(highHz / stepHz));
  for (let k = Math.max(1, Math.ceil(lowHz / stepHz)); k <= last; k++) {
    if (spectrum.isPeak(k)) peaks.push({ hz: spectrum.peakHz(k), amplitude: amplitudes[k] });
  }
  return peaks.sort((a, b) => b.amplitude - a.amplitude);
}

/** The amplitude that a quarter of the lines between two frequencies stay under: peaks and their flanks are not the floor. */
function floorOf({ amplitudes, stepHz }: Spectrum, lowHz: number, highHz: number): number {
  const lines = amplitudes.slice(Math.ceil(lowHz / stepHz), Math.floor(highHz / stepHz) + 1).sort();
  return lines[Math.floor(lines.length / 4)] ?? Number.NaN;
}

/**
 * The heart rate that a spectrum shows, Hz: its strongest clear peak from 0.67 to 3.3 Hz. Where a slower peak stands at a
 * half or a third of it, that one is the heart's and the other its harmonic, as in ICP with a large second wave; a
 * peak at twice or three times one under 0.67 Hz that is twice as large is breathing. Null where no pulse stands off from the noise.
 * Common practice, no source.
 */
export function pulseRateHz(spectrum: Spectrum): number | null {
  const floor = floorOf(spectrum, SLOWEST_HZ, FASTEST_HZ);
  const slow = peaksFrom(spectrum, SLOWEST_BREATH_HZ, SLOWEST_HZ);
  const isBreath = ({ hz, amplitude }: Peak): boolean =>
    slow.some(
      (breath) =>
        breath.amplitude >= OVER_HARMONIC * amplitude &&
        [2, 3].some((n) => Math.abs(n * breath.hz - hz) < SAME_HZ),
    );
  const clear = peaksFrom(spectrum, SLOWEST_HZ, FASTEST_HZ).filter(
    ({ amplitude }) => amplitude > 0 && amplitude >= CLEAR * floor,
  );
  const large = clear.filter(({ amplitude }) => amplitude >= LARGE_SHARE * clear[0].amplitude);
  const strongest = large.find((peak) => !isBreath(peak)) ?? large[0];
  if (!strongest) return null;
  const fundamentals = large.filter(
    (peak) =>
      peak.amplitude >= LARGE_SHARE * strongest.amplitude &&
      !isBreath(peak) &&
      [2, 3].some((n) => Math.abs(n * peak.hz - strongest.hz) < SAME_HZ),
  );
  return fundamentals.reduce((slowest, { hz }) => Math.min(slowest, hz), strongest.hz);
}
