import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clean } from '../../../src/clean/clean.js';
import type { Moment } from '../../../src/ingest/tables/describe.js';
import { settingsOf } from '../../../src/pipeline/settings.js';
import { studyOf } from '../../../src/pipeline/study-schema.js';
import { cutTo } from '../../../src/recording/pieces.js';
import type { Recording } from '../../../src/recording/recording.js';
import { burdenFeatures } from '../../../src/summarize/study/burden-features.js';
import { episodeCounts } from '../../../src/summarize/study/episode-counts.js';
import {
  CPP_INTENSITIES_MMHG,
  DURATIONS_MINUTES,
  ICP_INTENSITIES_MMHG,
} from '../../../src/summarize/study/intensity-grid.js';
import type { PatientStudy } from '../../../src/summarize/study/patient-study.js';
import { type StudyRow, studyRecording } from '../../../src/summarize/study/study-recording.js';
import { studySignals } from '../../../src/summarize/study/study-signals.js';
import { totalsOver } from '../../../src/summarize/window-totals.js';
import { cohortRow } from '../../support/invented-study.js';
import { noise, wandering } from '../../support/noise.js';
import { holds } from '../../support/properties.js';
import { recordingOf } from '../../support/recordings.js';
import { everySeconds, T0 } from '../../support/signals.js';
import { invented } from '../../support/slow-waves.js';

const MINUTE = 60_000;
const HOUR = 3_600_000;
const settings = settingsOf(
  { exports: 'exports', cohort: 'cohort.csv', report: 'study', clean: 'none' },
  'study',
);
const { summarize } = settings;
const asked = { ...studyOf({ primaryHours: 10, leastHours: 1 }, summarize), hasOptimal: false };

const at = (utcMs: number): Moment => ({ utcMs, endUtcMs: utcMs, isDay: false });
const withdrawnAt = (utcMs: number): StudyRow =>
  cohortRow({ id: '007', injury: at(T0 - 2 * HOUR), withdrawn: { happened: true, at: at(utcMs) } });

const studied = (recording: Recording, row: StudyRow | null) =>
  studyRecording(recording, clean(recording, settings.clean, []), row, summarize, asked);

const prxOf = ({ rows }: PatientStudy): unknown =>
  'reason' in rows[0].window ? rows[0].window : rows[0].window.features.prxMean;

/** A value each so many seconds: ICP around the thresholds, MAP beside it. */
function pressures(hours: number, seconds: number, hasMap = true): Recording {
  const [level, jitter] = [wandering(3, 0.99), noise(4)];
  const icp = Array.from({ length: (hours * 3600) / seconds }, () => 18 + 6 * level() + jitter());
  const map = icp.map((value) => 86 + 0.1 * value + 2 * jitter());
  return recordingOf({
    icp: everySeconds(seconds, icp),
    ...(hasMap ? { map: everySeconds(seconds, map) } : {}),
  });
}

describe('what the exports of one patient bring to a study', () => {
  const recording = pressures(14, 60);
  const primary = { start: T0, end: T0 + 10 * HOUR };
  const signals = studySignals(recording, clean(recording, settings.clean, []), undefined, {
    hasOptimal: false,
  });

  it('counts episodes on the window alone, by the rules of the unit', () => {
    const { grids, primaryIcpHours } = studied(recording, null);
    const { icp, cpp } = signals.signals;
    expect(grids.icp?.counts).toEqual(
      episodeCounts(cutTo(icp, primary), ICP_INTENSITIES_MMHG, DURATIONS_MINUTES, summarize.icpEpisodes),
    );
    expect(grids.cpp?.counts).toEqual(
      episodeCounts(cutTo(cpp, primary), CPP_INTENSITIES_MMHG, DURATIONS_MINUTES, summarize.cppEpisodes),
    );
    expect(grids.icp?.counts.some((count) => count > 0)).toBe(true);
    expect(grids.cpp?.monitoredHours).toBe(totalsOver(cpp, [primary], [], false)[0].sums.hours);
    expect(grids.icp?.monitoredHours).toBe(primaryIcpHours);
    expect(primaryIcpHours).toBeCloseTo(10, 9);
  });

  it('says from which duration on its sampling can show episodes', () => {
    // A rule of D needs a value each D/3: of a value a minute 3 min is the shortest duration.
    expect(DURATIONS_MINUTES[studied(recording, null).grids.icp?.firstDuration ?? -1]).toBe(3);
    expect(DURATIONS_MINUTES[studied(pressures(14, 300), null).grids.cpp?.firstDuration ?? -1]).toBe(16);
    expect(studied(pressures(1, 20), null).grids.icp?.firstDuration).toBe(0);
  });

  it('reads features on its windows as they are read anywhere', () => {
    const row = withdrawnAt(T0 + 12 * HOUR);
    const windows = [primary, { start: T0, end: T0 + 12 * HOUR }, { start: T0, end: T0 + 12 * HOUR }];
    const wanted = burdenFeatures(signals, windows, summarize.icpEpisodes, asked.levels);
    const { rows } = studied(recording, row);
    expect(rows.map(({ kind }) => kind)).toEqual(['primary', 'stay', 'day']);
    expect(rows.map(({ window }) => ('reason' in window ? null : window.features))).toEqual(wanted);
  });

  it('has no grid of a channel that is not there, and none at all without a window', () => {
    const withoutMap = studied(pressures(14, 60, false), null);
    expect(withoutMap.grids.cpp).toBeNull();
    expect(withoutMap.grids.icp).not.toBeNull();
    const before = studied(recording, withdrawnAt(T0 - HOUR));
    expect(before.grids).toEqual({ icp: null, cpp: null });
    expect(before.primaryIcpHours).toBe(0);
    expect(before.rows[0].window).toEqual({
      reason: 'treatment was withdrawn before the first ICP that could count',
    });
  });

  // The piece that leads up to the withdrawal ends in the first sample at or behind it, which stays as it is.
  it('is not changed by anything behind the withdrawal of treatment', () => {
    const [hours, seconds] = [4, 10];
    const short = pressures(hours, seconds);
    const wild = fc.record({
      seed: fc.integer({ min: 1, max: 1e6 }),
      icp: fc.double({ min: -30, max: 120, noNaN: true }),
    });
    holds(
      fc.property(fc.integer({ min: HOUR, max: (hours - 1) * HOUR }), wild, (behindStart, { seed, icp }) => {
        const row = withdrawnAt(T0 + behindStart);
        const first = Math.ceil(behindStart / (seconds * 1000));
        const next = noise(seed);
        const changed = (kind: 'icp' | 'map', level: number) =>
          everySeconds(
            seconds,
            Array.from(short.channels[kind]?.signal.values ?? [], (x, i) =>
              i <= first ? x : level + 25 * next(),
            ),
          );
        const other = recordingOf({ icp: changed('icp', icp), map: changed('map', 70) });
        const found = studied(other, row);
        expect(found).toEqual(studied(short, row));
        expect(prxOf(found)).toEqual(expect.any(Number));
      }),
      12,
    );
  });

  it('would be changed by the same without the withdrawal', () => {
    const short = pressures(6, 60);
    const icp = Array.from(short.channels.icp?.signal.values ?? [], (x, i) => (i > 200 ? 60 : x));
    const other = recordingOf({
      icp: everySeconds(60, icp),
      map: short.channels.map?.signal ?? everySeconds(60, []),
    });
    expect(studied(other, null)).not.toEqual(studied(short, null));
    expect(studied(other, withdrawnAt(T0 + 200 * MINUTE))).toEqual(
      studied(short, withdrawnAt(T0 + 200 * MINUTE)),
    );
  });
});

describe('PRx of a study', () => {
  const shared = (lateSeconds: number): Recording => {
    const { icp, map } = invented(2, 6, 0.7, lateSeconds);
    return recordingOf({ icp: everySeconds(1, [...icp]), map: everySeconds(1, [...map]) });
  };
  it('is a number where clocks agree, and a reason where they are apart', () => {
    expect(prxOf(studied(shared(0), null))).toBeGreaterThan(0.2);
    const { reason } = prxOf(studied(shared(60), null)) as { reason: string };
    const [, lag] = reason.match(/^the clocks of ICP and MAP may be apart by (\d+) s$/) ?? [];
    // As far as the lag itself is found: to 5 s.
    expect(Math.abs(Number(lag) - 60)).toBeLessThan(5);
  });
});
