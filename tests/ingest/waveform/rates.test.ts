import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, it } from 'vitest';
import { LocalRate } from '../../../src/ingest/waveform/local-rate.js';
import { rawSignal } from '../../../src/recording/recording.js';
import { WAVE_START, waveCsv } from '../../support/waves.js';
import { rowsSetAside } from '../support.js';
import { ingestWave, ingestWaves } from './support.js';

/** Rows of one rate behind those of another, each for some seconds, and the file of the same seconds at one rate. */
function atRates(...parts: readonly (readonly [samplesPerSecond: number, seconds: number])[]): string {
  let from = 0;
  const texts = parts.map(([samplesPerSecond, seconds], p) => {
    const whole = waveCsv({ samplesPerSecond, seconds: from + seconds })
      .trimEnd()
      .split('\n');
    const rows = whole.slice(1 + from * samplesPerSecond);
    from += seconds;
    return p === 0 ? [whole[0], ...rows].join('\n') : rows.join('\n');
  });
  return `${texts.join('\n')}\n`;
}

type Outcome = Awaited<ReturnType<typeof ingestWave>>;
const times = ({ recording }: Outcome, kind: 'icp' | 'map' | 'icpPulse' = 'icp'): number[] => [
  ...rawSignal(recording!, kind).times,
];
const seconds = (n: number): number[] => Array.from({ length: n }, (_, s) => WAVE_START + 1000 * s);

describe('a waveform whose rate changes', () => {
  it.each([
    [250, 100],
    [100, 250],
    [125, 40],
    [50, 300],
    [250, 240],
  ])('from %d to %d a second is known throughout', async (first, then) => {
    const outcome = await ingestWave(atRates([first, 60], [then, 240]));
    expect(outcome.problem).toBeNull();
    expect(rowsSetAside(outcome)).toBe(0);
    expect(times(outcome)).toEqual(seconds(300));
    expect(times(outcome, 'map')).toEqual(seconds(300));
    const same = await ingestWave(waveCsv({ samplesPerSecond: then, seconds: 300 }));
    for (const kind of ['icp', 'map'] as const)
      expect([...rawSignal(outcome.recording!, kind).values].slice(60)).toEqual(
        [...rawSignal(same.recording!, kind).values].slice(60),
      );
    // The pulse goes on once three seconds have shown the new rate, and is never measured across both.
    const pulses = times(outcome, 'icpPulse');
    const all = times(same, 'icpPulse');
    expect(pulses.filter((time) => time >= WAVE_START + 70_000)).toEqual(
      all.filter((time) => time >= WAVE_START + 70_000),
    );
    const ofBoth = [rawSignal(outcome.recording!, 'icpPulse'), rawSignal(same.recording!, 'icpPulse')];
    const [found, expected] = ofBoth.map((signal) => signal.values[signal.times.length - 1]);
    expect(found).toBe(expected);
  });

  it('says so, a change a part', async () => {
    const { warnings } = await ingestWave(atRates([250, 60], [100, 60]));
    expect(warnings[1]).toBe('a.csv: its rate changes: 100 a second by 2031-02-11T02:01:02+00:00.');
    const { warnings: many } = await ingestWave(
      atRates([250, 20], [100, 20], [250, 20], [100, 20], [250, 20]),
    );
    expect(many[1]).toMatch(/^a\.csv: its rate changes: 100 a second by [^,]+, 250 .+, and 1 more times\.$/);
    expect((await ingestWave(atRates([250, 60]))).warnings.length).toBe(1);
  });

  it('keeps a number that stands in each row', async () => {
    const [header, ...rows] = atRates([250, 20], [100, 40]).trimEnd().split('\n');
    const outcome = await ingestWave(`${[`${header},HR`, ...rows.map((row) => `${row},72`)].join('\n')}\n`);
    expect(rawSignal(outcome.recording!, 'hr').times.length).toBe(60);
  });

  it('fails where nearly all of it comes too seldom for a mean, and says why', async () => {
    const [header, ...quick] = waveCsv({ samplesPerSecond: 100, seconds: 5 }).trimEnd().split('\n');
    const slow = waveCsv({ samplesPerSecond: 1, seconds: 2000 }).trimEnd().split('\n').slice(6);
    const outcome = await ingestWave(`${[header, ...quick, ...slow].join('\n')}\n`);
    expect(outcome.problem).toBe(
      'a.csv, line 502: 1995 of 2495 rows cannot be used, this one first: in a second with less than half of its 100 rows. Export without holes; what comes at another rate goes into a file of its own.',
    );
    // Beside a longer file that is sound they are lost with a word, not the patient.
    const sound = waveCsv({ samplesPerSecond: 100, seconds: 60, start: WAVE_START + 3_000_000 });
    const both = await ingestWaves({
      'a.csv': `${[header, ...quick, ...slow].join('\n')}\n`,
      'b.csv': sound,
    });
    expect(both.problem).toBeNull();
    expect(both.warnings).toContain(
      'a.csv: 33.3 min of the waveform, the first in line 502, are seconds that hold less than half of their rows; these 1995 rows were set aside.',
    );
  });
});

describe('the half of a second', () => {
  const every = (ms: number, n: number, from = 0): Float64Array =>
    Float64Array.from({ length: n }, (_, i) => from + i * ms);

  it('is measured at the rate of the place, not at that of the first rows', () => {
    const rate = new LocalRate(4);
    expect(rate.coversHalf(every(10, 100), 100)).toBe(true);
    expect(rate.coversHalf(every(10, 50), 50)).toBe(true);
    expect(rate.coversHalf(every(10, 49), 49)).toBe(false);
    // Faster than the first rows, and cut off after a third.
    expect(new LocalRate(10).coversHalf(every(4, 80), 80)).toBe(false);
    expect(new LocalRate(10).coversHalf(every(4, 130), 130)).toBe(true);
  });

  it('is not made up by samples that are far apart', () => {
    const rate = new LocalRate(20);
    expect(rate.coversHalf(every(100, 10), 10)).toBe(true);
    expect(rate.coversHalf(every(125, 8), 8)).toBe(false);
    expect(rate.coversHalf(every(400, 2), 2)).toBe(false);
    expect(rate.coversHalf(every(0, 1), 1)).toBe(false);
  });

  it('is hardly ever there where a third of the samples or fewer are left at random, at any rate', () => {
    const random = xoroshiro128plus(20_310_211);
    const chance = (): number => random.next() / 2 ** 32 + 0.5;
    let counted = 0;
    for (let n = 0; n < 4000; n++) {
      const ms = [2, 4, 8, 20][n % 4];
      const share = 0.05 + 0.3 * chance();
      const kept = every(ms, 1000 / ms).filter(() => chance() < share);
      if (new LocalRate(ms).coversHalf(kept, kept.length)) counted++;
    }
    expect(counted).toBeGreaterThan(0);
    expect(counted).toBeLessThan(0.02 * 4000);
  });
});
