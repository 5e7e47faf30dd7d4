import { GrowingFloats } from '../rows/growing.js';
import { FASTEST_HZ, pulseRateHz, SLOWEST_HZ } from './pulse-rate.js';
import type { Piece } from './pulse-window.js';
import { WINDOW_MS } from './pulse-window.js';
import { Spectrum } from './spectrum.js';

/** The heart does not change further than this share from one window to the next ones. */
const DRIFT = 0.2;
/** Two channels show the same beat within this, Hz. */
const SAME_BEAT_HZ = 0.1;

/** The pulse of one window; NaN where it is not known. */
export interface Pulse {
  /** The middle of the window. */
  readonly time: number;
  readonly icpMmHg: number;
  readonly abpMmHg: number;
  /** Beats a minute; NaN where no pulse was found. */
  readonly rate: number;
}

/** The amplitude of the largest line near a frequency, exactly at its peak. */
function amplitudeNear(spectrum: Spectrum, hz: number, awayHz: number): number {
  const line = spectrum.loudest(Math.max(SLOWEST_HZ, hz - awayHz), Math.min(FASTEST_HZ, hz + awayHz));
  return spectrum.at(spectrum.isPeak(line) ? spectrum.peakHz(line) : line * spectrum.stepHz);
}

/**
 * Measures the pulse window by window: the amplitude of its fundamental, half of peak to peak of that sine. The heart rate
 * is that of the arterial pressure, else that of ICP. Where neither shows a pulse, the amplitude is what is left near the
 * last rate that was seen, so that a pulse that was lost is small and not unknown.
 */
export class Pulses {
  private lastHz = Number.NaN;
  private readonly times = new GrowingFloats();
  private readonly icp = new GrowingFloats();
  private readonly abp = new GrowingFloats();
  private readonly rates = new GrowingFloats();
  /** The seconds that were looked at: first and last of ICP, first and last of arterial pressure. */
  private readonly spans = new GrowingFloats();

  /** Takes the window that starts there. */
  add(start: number, icp: Piece | null, abp: Piece | null): void {
    if (!icp && !abp) return;
    const [ofIcp, ofAbp] = [icp, abp].map(
      (piece) => piece && new Spectrum(piece.values, piece.intervalMs, 2 * FASTEST_HZ),
    );
    const found = (ofAbp && pulseRateHz(ofAbp)) ?? (ofIcp && pulseRateHz(ofIcp)) ?? Number.NaN;
    const isFound = !Number.isNaN(found);
    if (isFound) this.lastHz = found;
    if (Number.isNaN(this.lastHz)) return;
    const away = isFound ? SAME_BEAT_HZ : DRIFT * this.lastHz;
    const amplitude = (of: Spectrum | null): number =>
      of ? amplitudeNear(of, this.lastHz, away) : Number.NaN;
    this.times.push(start + WINDOW_MS / 2);
    this.icp.push(amplitude(ofIcp));
    this.abp.push(amplitude(ofAbp));
    this.rates.push(60 * found);
    for (const piece of [icp, abp]) {
      this.spans.push(piece?.from ?? Number.NaN);
      this.spans.push(piece?.to ?? Number.NaN);
    }
  }

  /** All windows but those in which artifact was seen later. */
  without(isMarked: (channel: 'icp' | 'abp', from: number, to: number) => boolean): Pulse[] {
    return Array.from({ length: this.times.length }, (_, i): Pulse => {
      const ofIcp = isMarked('icp', this.spans.at(4 * i), this.spans.at(4 * i + 1));
      const ofAbp = isMarked('abp', this.spans.at(4 * i + 2), this.spans.at(4 * i + 3));
      const [icp, abp] = [this.icp.at(i), this.abp.at(i)];
      const isRateKnown = (Number.isNaN(icp) || !ofIcp) && (Number.isNaN(abp) || !ofAbp);
      return {
        time: this.times.at(i),
        icpMmHg: ofIcp ? Number.NaN : icp,
        abpMmHg: ofAbp ? Number.NaN : abp,
        rate: isRateKnown ? this.rates.at(i) : Number.NaN,
      };
    });
  }
}
