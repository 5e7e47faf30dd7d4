import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** Invented: two pressures with pulse, breathing, slow waves and noise, as a monitor's waveform. */
export interface WaveShape {
  readonly samplesPerSecond: number;
  readonly seconds: number;
  /** The first sample, milliseconds UTC; a whole second where left out. */
  readonly start?: number;
  readonly seed?: number;
  /** Beats a second; 1.23 where left out. */
  readonly heartHz?: number;
  /** Changes a sample: its index, its time in seconds, and both values as invented. */
  readonly edit?: (sample: { i: number; t: number; icp: number; abp: number }) => {
    icp: number | string;
    abp: number | string;
  };
}

export const WAVE_START = Date.UTC(2031, 1, 11, 2);

/** ICP in mmHg: 12 with a pulse of 1.5 (first harmonic) and 0.9 (second), breathing of 0.8 and waves of a minute. */
export const inventedIcp = (t: number, heartHz = 1.23): number =>
  12 +
  1.5 * Math.sin(2 * Math.PI * heartHz * t) +
  0.9 * Math.sin(4 * Math.PI * heartHz * t + 1) +
  0.8 * Math.sin(2 * Math.PI * 0.25 * t) +
  2 * Math.sin((2 * Math.PI * t) / 61);

/** Arterial pressure in mmHg: 85 with a pulse of 20, 10 and 4, and waves of a minute. */
export const inventedAbp = (t: number, heartHz = 1.23): number =>
  85 +
  20 * Math.sin(2 * Math.PI * heartHz * t + 0.4) +
  10 * Math.sin(4 * Math.PI * heartHz * t + 1.2) +
  4 * Math.sin(6 * Math.PI * heartHz * t + 2) +
  3 * Math.sin((2 * Math.PI * t) / 61 + 1);

/** Time cells `2031-02-11 02:00:00.008` at a steady rate. */
function timeWriter(start: number): (ms: number) => string {
  let second = Number.NaN;
  let text = '';
  return (ms) => {
    const whole = Math.floor((start + ms) / 1000);
    if (whole !== second) {
      second = whole;
      text = new Date(whole * 1000).toISOString().slice(0, 19).replace('T', ' ');
    }
    return `${text}.${String(Math.round(start + ms - whole * 1000)).padStart(3, '0')}`;
  };
}

/** Rows `time,icp,abp` of a waveform, in pieces of a minute; the first piece begins with the header. */
export function* waveRows(shape: WaveShape): Generator<string> {
  const { samplesPerSecond, seconds, start = WAVE_START, seed = 20_310_211, heartHz = 1.23, edit } = shape;
  const random = xoroshiro128plus(seed);
  const noise = (): number => (random.next() / 2 ** 31) * 0.15;
  const time = timeWriter(start);
  const interval = 1000 / samplesPerSecond;
  let lines = ['Time,ICP (mmHg),ABP (mmHg)'];
  for (let i = 0; i < seconds * samplesPerSecond; i++) {
    const t = i / samplesPerSecond;
    const icp = Math.round(10 * (inventedIcp(t, heartHz) + noise())) / 10;
    const abp = Math.round(10 * (inventedAbp(t, heartHz) + 3 * noise())) / 10;
    const cells = edit ? edit({ i, t, icp, abp }) : { icp, abp };
    // The step of whole milliseconds is never upwards past the next sample.
    lines.push(`${time(Math.floor(i * interval + 1e-6))},${cells.icp},${cells.abp}`);
    if ((i + 1) % (60 * samplesPerSecond) === 0) {
      yield `${lines.join('\n')}\n`;
      lines = [];
    }
  }
  if (lines.length > 0) yield `${lines.join('\n')}\n`;
}

/** The whole file as text. */
export const waveCsv = (shape: WaveShape): string => [...waveRows(shape)].join('');
