import { describe, expect, it } from 'vitest';
import { clean } from '../../../src/clean/clean.js';
import { rawSignal } from '../../../src/recording/recording.js';
import { WAVE_START, waveCsv } from '../../support/waves.js';
import { rowsSetAside, wall, whyFailed } from '../support.js';
import { ingestWave, USUAL_RULES } from './support.js';

const SECONDS = 300;
/** Invented: a high ICP with a pulse of 5 mmHg, which rules for numbers would take for coughs. */
const of = (samplesPerSecond: number, odd: number | null = null) =>
  ingestWave(
    waveCsv({
      samplesPerSecond,
      seconds: SECONDS,
      edit: ({ i, t, icp, abp }) => ({
        icp: i === odd ? 999 : (icp + 12 + 5 * Math.sin(2 * Math.PI * 1.23 * t)).toFixed(1),
        abp,
      }),
    }),
  );

describe('a waveform of 10 to 39 samples a second', () => {
  it.each([10, 16, 20, 30, 39])('at %d is read as means over whole seconds', async (rate) => {
    const outcome = await of(rate);
    expect(outcome.problem).toBeNull();
    expect([outcome.rowsRead, rowsSetAside(outcome)]).toEqual([rate * SECONDS, 0]);
    const [coarse, fine] = [outcome, await of(100)].map(({ recording }) => rawSignal(recording!, 'icp'));
    expect([...coarse.times]).toEqual([...fine.times]);
    // A mean of a second over 1.23 beats hangs little on how often it is sampled, and not at all on average.
    const off = coarse.values.map((value, s) => value - fine.values[s]);
    expect(Math.max(...off.map(Math.abs))).toBeLessThan(1);
    expect(Math.abs(off.reduce((sum, x) => sum + x, 0) / SECONDS)).toBeLessThan(0.05);
  });

  it('has no artifact in its pulses, of which the rows as numbers hold one a beat', async () => {
    const { recording } = await of(10);
    const { marks, stoodAside } = clean(recording!, USUAL_RULES);
    expect(marks).toEqual([]);
    const why = 'the waveform has 10 samples a second; the rule needs 40';
    expect(stoodAside.filter((entry) => entry.why === why).map(({ rule }) => rule)).toEqual([
      'frozenWave',
      'transient',
      'clippedWave',
    ]);
  });

  it('has no sample rule but that of the measuring range, which works at any rate', async () => {
    const { recording } = await of(20, 2000);
    const start = WAVE_START + 100_000;
    expect(recording!.waveform).toEqual({
      samplesPerSecond: 20,
      marks: [{ channel: 'icp', rule: 'outsideRange', start, end: start }],
    });
  });

  it('says what it is too coarse for, and gives none of that', async () => {
    const words = (rate: number, what: string): string =>
      `a.csv: the file is a waveform of ${rate} samples a second of ICP and arterial pressure, which is read as means over whole seconds${what}.`;
    const [at10, at24, at25, at40] = await Promise.all([10, 24, 25, 40].map((rate) => of(rate)));
    const none = ': too few for the rules of waveforms, for pulses and for systolic and diastolic pressure';
    expect([at10, at24, at25, at40].map(({ warnings }) => warnings[0])).toEqual([
      words(10, none),
      words(24, none),
      words(25, ': too few for the rules of waveforms and for systolic and diastolic pressure'),
      words(40, ''),
    ]);
    const has = [at10, at24, at25, at40].map(({ recording }) =>
      (['icpPulse', 'abpPulse', 'sbp', 'dbp'] as const).map(
        (kind) => recording!.channels[kind] !== undefined,
      ),
    );
    const no = [false, false, false, false];
    expect(has).toEqual([no, no, [true, true, false, false], [true, true, true, true]]);
  });

  it('shows the same amplitude of the pulse at 25 samples a second as at 125, also of a fast heart', async () => {
    for (const heartHz of [0.8, 1.23, 2.1, 3.1]) {
      const [coarse, fine] = await Promise.all(
        [25, 125].map((samplesPerSecond) => ingestWave(waveCsv({ samplesPerSecond, seconds: 120, heartHz }))),
      );
      for (const kind of ['icpPulse', 'abpPulse'] as const) {
        const [a, b] = [coarse, fine].map(({ recording }) => rawSignal(recording!, kind).values);
        expect(a.length).toBe(12);
        a.forEach((value, i) => {
          expect(Math.abs(value / b[i] - 1), `${kind} at ${heartHz} Hz`).toBeLessThan(0.02);
        });
      }
    }
  });
});

describe('a waveform in an export with a row a value', () => {
  const long = (ms: number): string =>
    [
      'Time,Parameter,Value,Unit',
      ...Array.from({ length: 400 }, (_, i) => {
        const time = WAVE_START + ms * i;
        const text = `${wall(time)}.${String(time % 1000).padStart(3, '0')}`;
        return `${text},ICP,12,mmHg\n${text},ABP mean,85,mmHg`;
      }),
    ].join('\n');

  it.each([4, 20, 100])('is refused where rows of one parameter stand %d ms apart', async (ms) => {
    expect(await whyFailed(long(ms))).toBe(
      `a.csv, line 1, column "Time": rows of "ICP" follow each other every ${ms} ms: a waveform is not read from an export with a row a value. Export it with a column a channel and a row a time; it is then read as means over whole seconds.`,
    );
  });

  it('is none where they stand further apart', async () => {
    expect(await whyFailed(long(500))).toBeNull();
  });
});
