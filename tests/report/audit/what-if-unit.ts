import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { signalOf } from '../../../src/recording/sampling.js';
import { type Signal, withoutIntervals } from '../../../src/recording/signal.js';
import { ZoneClock } from '../../../src/recording/zone.js';
import { episodesAmong } from '../../../src/segment/episodes.js';
import { stretchesPast } from '../../../src/segment/stretches.js';
import type { AuditSettings, UnitAuditInput } from '../../../src/summarize/alarms/audit-settings.js';
import type { PatientAudit } from '../../../src/summarize/alarms/patient-audit.js';
import { replayGrid } from '../../../src/summarize/alarms/replay-all.js';
import type { ReplayGrid, TriedSettings } from '../../../src/summarize/alarms/replay-grid.js';
import { T0 } from '../../support/signals.js';

const HOUR_MS = 3_600_000;

export const TRIED: TriedSettings = {
  limitsMmHg: Array.from({ length: 16 }, (_, i) => 15 + i),
  delaysSeconds: Array.from({ length: 16 }, (_, i) => i * 60),
  resetSeconds: 0,
};

const SETTINGS: AuditSettings = {
  per: 'week',
  changed: null,
  lateSeconds: { icp: 300, cpp: 300 },
  limitsMmHg: { icp: 20, cpp: 60 },
  tried: TRIED,
  present: { limitMmHg: 20, delaySeconds: 0 },
  maskBelow: null,
  hasPseudonyms: false,
  treatments: null,
};

const NO_CHANNEL = {
  intervalSeconds: null,
  rawHours: 0,
  cleanedHours: 0,
  episodesReason: null,
  undetermined: 0,
};

/** A patient of whom nothing but the replay is known; invented. */
export const patientOf = (id: string, replay: ReplayGrid | null, hours: number): PatientAudit => ({
  id,
  extent: { start: T0, end: T0 + hours * HOUR_MS },
  channels: { icp: NO_CHANNEL, cpp: NO_CHANNEL },
  treatments: 5,
  alarms: [],
  unjudged: [],
  episodes: [],
  hours: Array.from({ length: hours }, (_, i) => ({
    start: T0 + i * HOUR_MS,
    end: T0 + (i + 1) * HOUR_MS,
    icpMs: HOUR_MS,
    cppMs: 0,
  })),
  lags: { reachSeconds: 0, counts: new Uint32Array(0), alarms: 0 },
  replay,
});

export const unitOf = (
  patients: readonly PatientAudit[],
  settings: Partial<AuditSettings> = {},
): UnitAuditInput => ({
  patients,
  settings: { ...SETTINGS, ...settings },
  clock: new ZoneClock('Europe/Oslo'),
  period: { start: T0, end: T0 + 30 * 24 * HOUR_MS },
  night: { fromMinutes: 19 * 60, toMinutes: 7 * 60 },
  alarmsCover: null,
  careCover: null,
  hasAcknowledgements: false,
});

/** ICP of some hours with slow drift, waves, coughs and rises of 3 to 60 min, a sample every 5 s; invented. */
function invented(seed: number, hours: number): { raw: Signal; cleaned: Signal } {
  const random = xoroshiro128plus(seed);
  const unit = (): number => uniformInt(random, 0, 1_000_000) / 1_000_000;
  const count = hours * 720;
  const values = new Float64Array(count);
  const base = 9 + 8 * unit();
  let drift = 0;
  for (let i = 0; i < count; i++) {
    drift = 0.999 * drift + 0.22 * (unit() - 0.5);
    values[i] = base + drift + 0.8 * Math.sin(i / 9) + 1.6 * (unit() - 0.5);
  }
  const bump = (from: number, length: number, height: number): void => {
    for (let k = 0; k < length && from + k < count; k++)
      values[from + k] += height * Math.sin((Math.PI * k) / length);
  };
  for (let k = 0; k < hours / 5; k++)
    bump(Math.floor(unit() * count), 36 + Math.floor(680 * unit() ** 2), 6 + 12 * unit());
  const coughs = Array.from({ length: hours * 2 }, () => ({
    at: Math.floor(unit() * count),
    long: 2 + Math.floor(unit() * 12),
  }));
  for (const { at, long } of coughs) bump(at, long, 15 + 25 * unit());
  const raw = signalOf(
    Float64Array.from(values, (_, i) => T0 + i * 5000),
    values.map((x) => Math.round(x * 10) / 10),
  );
  const taken = coughs.map(({ at, long }) => ({ start: T0 + at * 5000, end: T0 + (at + long) * 5000 }));
  return { raw, cleaned: withoutIntervals(raw, taken) };
}

/** A unit of so many invented patients. */
export const inventedUnit = (count: number, settings: Partial<AuditSettings> = {}): UnitAuditInput => {
  const hours = 48;
  const patients = Array.from({ length: count }, (_, i) => {
    const { raw, cleaned } = invented(100 + i, hours);
    const { episodes } = episodesAmong(stretchesPast(cleaned, 22, 'above'), {
      minSeconds: 300,
      dipSeconds: 30,
      bridgeSeconds: 120,
    });
    return patientOf(`${101 + i}`, replayGrid(raw, cleaned, episodes, 22, settings.tried ?? TRIED), hours);
  });
  return unitOf(patients, settings);
};
