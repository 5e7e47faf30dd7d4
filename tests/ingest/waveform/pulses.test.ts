import { describe, expect, it } from 'vitest';
import type { ChannelKind } from '../../../src/recording/channel.js';
import { inventedAbp, inventedIcp, WAVE_START, type WaveShape, waveCsv } from '../../support/waves.js';
import { ingestWave } from './support.js';

const RATE = 125;
type Outcome = Awaited<ReturnType<typeof ingestWave>>;

const waveOf = (seconds: number, edit?: WaveShape['edit'], more: Partial<WaveShape> = {}): Promise<Outcome> =>
  ingestWave(waveCsv({ samplesPerSecond: RATE, seconds, edit, ...more }));

/** Samples as [seconds after the start, value]. */
const samplesOf = (outcome: Outcome, kind: ChannelKind): [number, number][] => {
  const { times, values } = outcome.recording!.channels[kind]!.signal;
  return [...times].map((time, i) => [(time - WAVE_START) / 1000, values[i]]);
};

describe('the pulse of a waveform', () => {
  it('is the amplitude of the fundamental, at the middle of each window of 10 s', async () => {
    const outcome = await waveOf(60);
    const { icpPulse, abpPulse } = outcome.recording!.channels;
    expect(icpPulse).toMatchObject({ kind: 'icpPulse', header: 'ICP (mmHg)', nominalIntervalMs: 10_000 });
    expect(icpPulse!.derivedFrom).toBe(
      'amplitude of its fundamental at the heart rate, half of peak to peak, over 10 s of the waveform',
    );
    expect(samplesOf(outcome, 'icpPulse').map(([t]) => t)).toEqual([5, 15, 25, 35, 45, 55]);
    // What `inventedIcp` and `inventedAbp` are made of: 1.5 and 20 mmHg at 1.23 Hz.
    for (const [, value] of samplesOf(outcome, 'icpPulse'))
      expect(Math.abs(value / 1.5 - 1)).toBeLessThan(0.01);
    for (const value of abpPulse!.signal.values) expect(Math.abs(value / 20 - 1)).toBeLessThan(0.01);
  });

  it('gives the heart rate where none is exported', async () => {
    for (const heartHz of [0.8, 1.5, 2.7]) {
      const outcome = await waveOf(20, undefined, { heartHz });
      expect(outcome.recording!.channels.hr!.derivedFrom).toBe(
        'strongest frequency of the pulse over 10 s of the waveform',
      );
      for (const [, value] of samplesOf(outcome, 'hr')) expect(value).toBeCloseTo(60 * heartHz, 0);
    }
  });

  it('starts on multiples of 10 s, and takes windows of which 8 s in a row can be used', async () => {
    const outcome = await waveOf(42, undefined, { start: WAVE_START + 2000 });
    expect(samplesOf(outcome, 'icpPulse').map(([t]) => t)).toEqual([5, 15, 25, 35]);
    const short = await waveOf(41, undefined, { start: WAVE_START + 3000 });
    expect(samplesOf(short, 'icpPulse').map(([t]) => t)).toEqual([15, 25, 35]);
  });

  it('is not known where artifact or a hole leaves less than 8 s', async () => {
    const spiked = await waveOf(60, ({ i, icp, abp }) => ({ icp: i === 15 * RATE + 9 ? 90 : icp, abp }));
    expect(samplesOf(spiked, 'icpPulse').map(([t]) => t)).toEqual([5, 25, 35, 45, 55]);
    expect(samplesOf(spiked, 'abpPulse')).toHaveLength(6);
    // At the window's second second, eight are left.
    const early = await waveOf(60, ({ i, icp, abp }) => ({ icp: i === 11 * RATE + 9 ? 90 : icp, abp }));
    expect(samplesOf(early, 'icpPulse')).toHaveLength(6);
    // One second later, seven.
    const late = await waveOf(60, ({ i, icp, abp }) => ({ icp: i === 12 * RATE + 9 ? 90 : icp, abp }));
    expect(samplesOf(late, 'icpPulse')).toHaveLength(5);
    // A hole of eight samples parts a window, inside a second or between two.
    for (const at of [15 * RATE + 60, 15 * RATE - 4]) {
      const holed = await waveOf(60, ({ i, icp, abp }) => ({ icp: i >= at && i < at + 8 ? '' : icp, abp }));
      expect(samplesOf(holed, 'icpPulse').map(([t]) => t)).toEqual([5, 25, 35, 45, 55]);
      expect(holed.recording!.channels.icp!.signal.times.length).toBe(60);
    }
    // A value that froze is told of only when all is read, and takes its windows all the same.
    const frozen = await waveOf(60, ({ t, icp, abp }) => ({ icp: t >= 18 && t < 23 ? 12 : icp, abp }));
    expect(samplesOf(frozen, 'icpPulse').map(([t]) => t)).toEqual([5, 35, 45, 55]);
  });

  it('is small, and not unknown, where it is lost in ICP', async () => {
    const outcome = await waveOf(120, ({ t, abp }) => ({
      icp:
        t < 60 ? inventedIcp(t).toFixed(2) : (12 + 0.02 * Math.sin(t) + 0.01 * Math.sin(97 * t)).toFixed(2),
      abp,
    }));
    const lost = samplesOf(outcome, 'icpPulse').filter(([t]) => t > 60);
    expect(lost).toHaveLength(6);
    for (const [, value] of lost) expect(value).toBeLessThan(0.05);
  });

  it('is small near the last heart rate where nothing shows one any more', async () => {
    const noise = (t: number): number => 0.02 * Math.sin(97 * t) + 0.02 * Math.sin(31 * t);
    const outcome = await ingestWave(
      waveCsv({
        samplesPerSecond: RATE,
        seconds: 120,
        edit: ({ t }) => ({ icp: (t < 60 ? inventedIcp(t) : 12 + noise(t)).toFixed(2), abp: '' }),
      }),
    );
    const all = samplesOf(outcome, 'icpPulse');
    expect(all).toHaveLength(12);
    for (const [t, value] of all) {
      if (t < 60) expect(value).toBeCloseTo(1.5, 1);
      else expect(value).toBeLessThan(0.1);
    }
    expect(samplesOf(outcome, 'hr')).toHaveLength(6);
  });

  it('is not known where there never was one', async () => {
    const outcome = await waveOf(60, ({ t }) => ({
      icp: (12 + Math.sin(t / 9) + 0.3 * Math.sin(40 * t)).toFixed(2),
      abp: '',
    }));
    expect(outcome.recording!.channels.icpPulse).toBeUndefined();
  });
});

describe('systolic and diastolic pressure of an arterial waveform', () => {
  it('are its highest and lowest values over 2 s', async () => {
    const outcome = await waveOf(30);
    const { sbp, dbp, map } = outcome.recording!.channels;
    expect(sbp!.derivedFrom).toBe('highest value of the arterial waveform in 2 s');
    expect(dbp!.derivedFrom).toBe('lowest value of the arterial waveform in 2 s');
    expect([sbp!.header, dbp!.header, map!.header]).toEqual(new Array(3).fill('ABP (mmHg)'));
    const over = (s: number): number[] =>
      Array.from({ length: 2 * RATE }, (_, i) => inventedAbp(s - 1 + i / RATE));
    expect(sbp!.signal.times.length).toBe(29);
    sbp!.signal.times.forEach((time, i) => {
      const s = (time - WAVE_START) / 1000;
      expect(Math.abs(sbp!.signal.values[i] - Math.max(...over(s)))).toBeLessThan(0.6);
      expect(Math.abs(dbp!.signal.values[i] - Math.min(...over(s)))).toBeLessThan(0.6);
    });
  });

  it('are not taken from samples outside the range or spikes, and are of values that stand still', async () => {
    const outcome = await waveOf(60, ({ i, t, icp, abp }) => ({
      icp,
      abp: i === 20 * RATE + 3 ? 999 : i === 30 * RATE + 3 ? 290 : t >= 40 && t < 50 ? 61 : abp,
    }));
    const sbp = new Map(samplesOf(outcome, 'sbp'));
    for (const s of [20, 21, 30, 31]) expect(sbp.has(s), `${s} s`).toBe(false);
    expect(sbp.get(19)).toBeLessThan(130);
    expect(sbp.get(45)).toBe(61);
    expect(new Map(samplesOf(outcome, 'dbp')).get(45)).toBe(61);
  });

  it('are those of the export where it holds them', async () => {
    const [header, ...rows] = waveCsv({ samplesPerSecond: RATE, seconds: 20 }).trimEnd().split('\n');
    const wide = [`${header},ABPs (mmHg)`, ...rows.map((row) => `${row},131`)];
    const { sbp, dbp } = (await ingestWave(wide.join('\n'))).recording!.channels;
    expect(sbp!.derivedFrom).toBeNull();
    expect(sbp!.signal.values[3]).toBe(131);
    expect(dbp!.derivedFrom).not.toBeNull();
  });

  it('are not computed of a number that a monitor writes into each row', async () => {
    const outcome = await waveOf(60, ({ t, icp }) => ({ icp, abp: 80 + Math.floor((t + 0.5) / 5) }));
    const { sbp, abpPulse, map } = outcome.recording!.channels;
    expect(map!.signal.times.length).toBe(60);
    expect([sbp, abpPulse]).toEqual([undefined, undefined]);
    expect(outcome.recording!.waveform!.marks).toEqual([]);
    expect(outcome.warnings[0]).toContain('125 samples a second of ICP,');
  });
});
