import type { PerfusionResult } from '../../src/report/results-perfusion.js';
import type { RecordingResult } from '../../src/report/results-schema.js';

/** What a recording of invented perfusion is, but for a quiet night. */
export interface PerfusionSketch {
  readonly id?: string;
  readonly cpp?: Partial<RecordingResult['cpp']>;
  readonly joint?: Partial<PerfusionResult['joint']>;
  readonly prx?: Partial<PerfusionResult['prx']>;
  readonly perfusion?: Partial<PerfusionResult>;
  readonly rest?: Partial<RecordingResult>;
}

/** An index that could be computed at every minute of 12 h. */
const index = (mean: number, sentence: string): PerfusionResult['prx'] => ({
  mean,
  shareAboveLimit: 0,
  hoursAboveLimit: 0,
  computableHours: 12,
  computableShare: 1,
  whyNone: null,
  sentence,
  hours: [],
});

/** Invented perfusion of a quiet night. */
export function perfusionOf({ joint = {}, prx = {}, perfusion = {} }: PerfusionSketch = {}): PerfusionResult {
  return {
    below: [
      { belowMmHg: 60, hours: 0, doseMmHgHours: 0 },
      { belowMmHg: 50, hours: 0, doseMmHgHours: 0 },
    ],
    joint: {
      icpAboveMmHg: 22,
      cppBelowMmHg: 60,
      bothHours: 0,
      icpAloneHours: 0,
      cppAloneHours: 0,
      neitherHours: 12,
      hours: [],
      ...joint,
    },
    limit: 0.25,
    prx: { ...index(-0.1, 'PRx could be computed.'), ...prx },
    minuteIndex: index(0.05, 'The low-frequency index from minute data could be computed.'),
    prxDoubt: null,
    prxByCpp: [],
    curve: null,
    optimal: null,
    minutes: null,
    plateauWaves: [],
    plateauWavesCut: 0,
    bWaves: { share: 0, windowsWith: 0, windows: 72 },
    pulse: null,
    oxygen: null,
    temperature: null,
    endTidalCo2: null,
    ...perfusion,
  };
}

/** A recording of a quiet night with invented perfusion, but for what the sketch says. */
export function perfused(sketch: PerfusionSketch = {}): RecordingResult {
  return {
    id: sketch.id ?? '1',
    period: { start: '2031-02-11T19:00:00+01:00', end: '2031-02-12T07:00:00+01:00' },
    cannotSay: [],
    knownShare: 1,
    suspectHours: 0,
    longestUnknown: null,
    decimals: { icp: 1, map: 0, cpp: 0 },
    monitoredHours: { icp: 12, map: 12, cpp: 12 },
    mapDerivedFrom: null,
    icp: { hoursAboveThreshold: 0, doseMmHgHours: 0 },
    cpp: {
      meanMmHg: 74.4,
      hoursBelowFloor: 0,
      doseBelowFloorMmHgHours: 0,
      lowest5MinMmHg: 66,
      bands: [{ fromMmHg: null, toMmHg: 50, hours: 0 }],
      ...sketch.cpp,
    },
    hours: [],
    days: [],
    decisions: [],
    levelling: { zeroedAt: null, note: null, asZeroedNote: null, steps: [], unknownHours: 0 },
    ownCpp: null,
    clockLag: { isApart: false, lagSeconds: 0, sentence: 'One clock.' },
    lowCpp: {
      hours: 0,
      doseMmHgHours: 0,
      targets: [],
      episodes: [],
      episodesReason: null,
      undeterminedEpisodes: 0,
    },
    cleaning: { takes: [], channels: [], withoutDecisions: null, decisionEffect: null },
    perfusion: perfusionOf(sketch),
    ...sketch.rest,
  } as unknown as RecordingResult;
}

/** What PRx is where it cannot be computed at all. */
export const NO_PRX: Partial<PerfusionResult['prx']> = {
  mean: null,
  shareAboveLimit: null,
  hoursAboveLimit: null,
  computableHours: 0,
  computableShare: 0,
  whyNone: 'not resolvable at this sampling: every 60 s, needs 10 s or finer',
};

/** An invented curve of PRx by CPP: a parabola from 50 to 100 mmHg, lowest at `optimum`. */
export function curveOf(optimum: number): NonNullable<PerfusionResult['curve']> {
  const z = (mmHg: number): number => 0.0015 * (mmHg - optimum) ** 2 - 0.2;
  const reach = Math.sqrt((Math.atanh(0.25) + 0.2) / 0.0015);
  const inside = (mmHg: number): number | null => (mmHg >= 50 && mmHg <= 100 ? mmHg : null);
  return {
    bins: Array.from({ length: 12 }, (_, i) => ({
      fromMmHg: 45 + 5 * i,
      toMmHg: 50 + 5 * i,
      minutes: i === 0 || i === 11 ? 4 : 60 + 10 * i,
      meanIndex: Math.tanh(z(47.5 + 5 * i)),
      isFitted: i > 0 && i < 11,
    })),
    fit: {
      x0: optimum,
      curvature: 0.0015,
      slope: 0,
      intercept: -0.2,
      r2: 0.91,
      optimalMmHg: optimum,
      lowerMmHg: inside(optimum - reach),
      upperMmHg: inside(optimum + reach),
    },
    whyNoFit: null,
  };
}
