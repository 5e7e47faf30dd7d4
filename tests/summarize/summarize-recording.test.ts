import { describe, expect, it } from 'vitest';
import type { Cleaning } from '../../src/clean/clean.js';
import type { Mark } from '../../src/clean/rule.js';
import type { Recording } from '../../src/recording/recording.js';
import { ZoneClock } from '../../src/recording/zone.js';
import { type RecordingSummary, summarizeRecording } from '../../src/summarize/summarize.js';
import { recordingOf } from '../support/recordings.js';
import { seconds } from '../support/shapes.js';
import { everySeconds, T0 } from '../support/signals.js';
import { ADULT, OVER_22, UNDER_60 } from '../support/targets.js';

const SETTINGS = {
  targets: ADULT,
  icpEpisodes: OVER_22,
  cppEpisodes: UNDER_60,
  agreement: { zeroMovedMmHg: 5 },
  night: { fromMinutes: 19 * 60, toMinutes: 7 * 60 },
};
const NOTHING_MARKED: Cleaning = { marks: [], rulesOn: [], stoodAside: [] };
/** T0 is 19:00 in Oslo. */
const FOUR_HOURS = seconds(0, 14_400);

const summarize = (
  recording: Recording,
  marks: readonly Mark[] = [],
  period = FOUR_HOURS,
): RecordingSummary =>
  summarizeRecording(recording, { ...NOTHING_MARKED, marks }, SETTINGS, period, new ZoneClock('Europe/Oslo'));

/** Four hours at 12 mmHg with one stretch from 3000 to 4200 s at 32 mmHg; MAP 80 throughout. */
const oneEpisode = recordingOf({
  icp: everySeconds(
    1,
    Array.from({ length: 14_401 }, (_, i) => (i >= 3000 && i <= 4200 ? 32 : 12)),
  ),
  map: everySeconds(1, Array(14_401).fill(80)),
});
const suspectMark = (direction: 'up' | 'down'): Mark => ({
  channel: 'icp',
  rule: 'step',
  grade: 'suspect',
  direction,
  ...seconds(3000, 4200),
});

describe('the summary of a recording', () => {
  it('holds each episode with its figures', () => {
    const { episodes, episodesReason, undeterminedEpisodes } = summarize(oneEpisode);
    expect(episodesReason).toBeNull();
    expect(undeterminedEpisodes).toBe(0);
    expect(episodes).toHaveLength(1);
    expect(episodes[0]).toMatchObject({
      highestMmHg: 32,
      lowestCppMmHg: 48,
      openStart: false,
      openEnd: false,
    });
    // Half a second of each flank lies over 22 mmHg.
    expect(episodes[0].end - episodes[0].start).toBeCloseTo(1_201_000, 3);
    expect(episodes[0].doseMmHgHours).toBeCloseTo((10 * 1200.5) / 3600, 9);
    expect(episodes[0].meanMmHg).toBeCloseTo((32 * 1200 + 27) / 1201, 6);
  });
  it('counts an episode in every hour that it shares time with', () => {
    const { hours, nights, period } = summarize(oneEpisode);
    expect(hours.map(({ episodes }) => episodes)).toEqual([1, 1, 0, 0]);
    expect(hours[0].longestEpisodeMinutes).toBeCloseTo(1201 / 60, 6);
    expect(hours[2].longestEpisodeMinutes).toBeNull();
    expect(nights.map(({ episodes }) => episodes)).toEqual([1]);
    expect(period.monitoredHours).toEqual({ icp: 4, map: 4, cpp: 4 });
  });
  it('adds up over its hours', () => {
    const { hours, period } = summarize(oneEpisode);
    for (const key of ['doseMmHgHours', 'hoursAboveThreshold', 'hoursWithinBand'] as const) {
      const sum = hours.reduce((all, { icp }) => all + (icp[key] ?? Number.NaN), 0);
      expect(sum).toBeCloseTo(period.icp[key]!, 9);
    }
  });
  it('leaves downward suspect stretches out of the headline and shows them the other way', () => {
    const { period, raw, otherWay, trust } = summarize(oneEpisode, [suspectMark('down')]);
    expect(period.icp.doseMmHgHours).toBe(0);
    expect(raw.icp.doseMmHgHours).toBeCloseTo((10 * 1200.5) / 3600, 9);
    expect(otherWay?.icp.doseMmHgHours).toBe(raw.icp.doseMmHgHours);
    expect(trust.suspectHours).toBeCloseTo(1200 / 3600, 9);
  });
  it('keeps upward suspect stretches in the headline and shows what is left without them', () => {
    const { period, otherWay, episodes } = summarize(oneEpisode, [suspectMark('up')]);
    expect(period.icp.doseMmHgHours).toBeCloseTo((10 * 1200.5) / 3600, 9);
    expect(episodes).toHaveLength(1);
    expect(otherWay?.icp.doseMmHgHours).toBe(0);
  });
  it('has no other way where nothing is suspect', () => {
    expect(summarize(oneEpisode).otherWay).toBeNull();
  });
  it('counts no episodes where the sampling cannot show them, and says why', () => {
    const rare = recordingOf({ icp: everySeconds(120, Array(121).fill(32)) });
    const { episodes, episodesReason, period } = summarize(rare);
    expect(episodes).toEqual([]);
    expect(episodesReason).toBe('not resolvable at this sampling: every 120 s, needs 100 s or finer');
    expect(period.episodes).toBeNull();
    expect(period.icp.doseMmHgHours).toBeCloseTo(40, 9);
  });
  it('judges CPP by the rarer of its two channels', () => {
    const mixed = recordingOf({
      icp: everySeconds(1, Array(14_401).fill(12)),
      map: everySeconds(600, Array(25).fill(80)),
    });
    const { period } = summarize(mixed);
    expect(period.icp.meanMmHg).toBe(12);
    expect(period.cpp.meanMmHg).toBeNull();
    expect(period.cpp.meanMmHgReason).toBe(
      'not resolvable at this sampling: every 600 s, needs 300 s or finer',
    );
  });
  it('has no CPP where there is no arterial line, also within an episode', () => {
    const { period, episodes } = summarize(recordingOf({ icp: oneEpisode.channels.icp!.signal }));
    expect(period.cpp.meanMmHgReason).toBe('no CPP in this time');
    expect(period.monitoredHours).toEqual({ icp: 4, map: 0, cpp: 0 });
    expect(episodes[0].lowestCppMmHg).toBeNull();
  });
  it('sees only its period, but finds an episode that reaches into it whole', () => {
    const { period, episodes } = summarize(oneEpisode, [], seconds(3600, 7200));
    expect(period.icp.hoursAboveThreshold).toBeCloseTo(600.5 / 3600, 9);
    expect(episodes).toHaveLength(1);
    expect(episodes[0].start).toBeCloseTo(T0 + 2_999_500, 3);
  });
  it('counts episodes that are cut and too short apart', () => {
    const cut = recordingOf({
      icp: everySeconds(
        1,
        Array.from({ length: 14_401 }, (_, i) => (i < 200 || i > 14_300 ? 32 : 12)),
      ),
    });
    const { episodes, undeterminedEpisodes } = summarize(cut);
    expect(episodes).toEqual([]);
    expect(undeterminedEpisodes).toBe(2);
  });
});
