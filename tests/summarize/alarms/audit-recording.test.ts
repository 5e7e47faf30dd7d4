import { describe, expect, it } from 'vitest';
import { clean } from '../../../src/clean/clean.js';
import type { LoggedAlarm } from '../../../src/ingest/tables/logged-alarms.js';
import { ZoneClock } from '../../../src/recording/zone.js';
import { type AuditedLogs, auditRecording } from '../../../src/summarize/alarms/audit-recording.js';
import type { AuditSettings } from '../../../src/summarize/alarms/audit-settings.js';
import type { PatientAudit } from '../../../src/summarize/alarms/patient-audit.js';
import { recordingOf } from '../../support/recordings.js';
import { everySeconds, T0 } from '../../support/signals.js';
import { ADULT, OVER_22, UNDER_60 } from '../../support/targets.js';

const at = (seconds: number): number => T0 + seconds * 1000;

const alarm = (seconds: number, more: Partial<LoggedAlarm> = {}): LoggedAlarm => ({
  start: at(seconds),
  end: null,
  acknowledged: null,
  parameter: { text: 'ICP high', channel: 'icp', side: 'upper' },
  limit: { value: 22, unit: 'mm[Hg]', side: 'upper' },
  side: 'upper',
  priority: null,
  message: null,
  ...more,
});

const SETTINGS: AuditSettings = {
  per: 'week',
  changed: null,
  lateSeconds: { icp: 300, cpp: 300 },
  limitsMmHg: { icp: 22, cpp: 60 },
  tried: { limitsMmHg: [20, 22], delaysSeconds: [0, 600], resetSeconds: 0 },
  present: null,
  maskBelow: null,
  hasPseudonyms: false,
  treatments: null,
};

const WHOLE_DAY = { start: at(-36_000), end: at(36_000) };

const LOGS: AuditedLogs = {
  alarms: [],
  care: [],
  alarmsCover: WHOLE_DAY,
  careCover: WHOLE_DAY,
  hasAcknowledgements: true,
  alarmedChannels: ['icp', 'cpp'],
  targets: [],
  diedAt: null,
};

/** Two hours at 1 Hz: ICP 12 and 30 from 1000 to 2200 s, MAP 85 and 70 from 4000 to 4600 s. */
const recording = recordingOf({
  icp: everySeconds(
    1,
    Array.from({ length: 7201 }, (_, s) => (s >= 1000 && s < 2200 ? 30 : 12)),
  ),
  map: everySeconds(
    1,
    Array.from({ length: 7201 }, (_, s) => (s >= 4000 && s < 4600 ? 65 : 85)),
  ),
});

function auditOf(
  logs: Partial<AuditedLogs>,
  period = WHOLE_DAY,
  settings: Partial<AuditSettings> = {},
): PatientAudit {
  const summarize = {
    targets: ADULT,
    icpEpisodes: OVER_22,
    cppEpisodes: UNDER_60,
    night: { fromMinutes: 1140, toMinutes: 420 },
    agreement: { zeroMovedMmHg: 5 },
  };
  return auditRecording(
    recording,
    clean(recording, {}),
    { ...LOGS, ...logs },
    summarize,
    { ...SETTINGS, ...settings },
    period,
    new ZoneClock('Europe/Oslo'),
  );
}

describe('the audit of one patient', () => {
  it('finds the sustained episodes of both pressures, with how they were told of', () => {
    const { episodes } = auditOf({ alarms: [alarm(1010, { acknowledged: at(1130) })] });
    const ofIcp = episodes.filter(({ channel }) => channel === 'icp');
    const ofCpp = episodes.filter(({ channel }) => channel === 'cpp');
    expect(ofIcp).toHaveLength(1);
    expect(ofIcp[0]).toMatchObject({ notice: 'inTime', extremeMmHg: 30 });
    expect(ofIcp[0].alarmAfterMinutes).toBeCloseTo((1010 - 999.6) / 60, 1);
    expect(ofIcp[0].acknowledged).toEqual({ minutes: 2, outcome: 'happened' });
    // 8 mmHg over 22 for 1200 s, and the ramps of one second at both ends.
    expect(ofIcp[0].doseMmHgHours).toBeCloseTo((8 * 1199 + 2 * 0.5 * 8 * (8 / 18)) / 3600, 6);
    // MAP 85 - ICP 30 = 55, and MAP 65 - ICP 12 = 53, both below 60.
    expect(ofCpp.map(({ notice, extremeMmHg }) => ({ notice, extremeMmHg }))).toEqual([
      { notice: 'none', extremeMmHg: 55 },
      { notice: 'none', extremeMmHg: 53 },
    ]);
  });

  it('calls an alarm late once the rule was met, and an episode beside the log not covered', () => {
    const icpOf = (logs: Partial<AuditedLogs>) =>
      auditOf(logs).episodes.find(({ channel }) => channel === 'icp')!;
    expect(icpOf({ alarms: [alarm(1290)] }).notice).toBe('inTime');
    expect(icpOf({ alarms: [alarm(1305)] }).notice).toBe('late');
    expect(icpOf({ alarms: [] })).toMatchObject({ notice: 'none', alarmAfterMinutes: null });
    const beside = { start: at(3000), end: at(7000) };
    const outside = icpOf({ alarms: [alarm(3100)], alarmsCover: beside, careCover: beside });
    expect(outside).toMatchObject({ notice: 'notCovered', acknowledged: null, treated: null });
    expect(icpOf({ alarms: null, alarmsCover: null })).toMatchObject({ notice: 'notCovered' });
  });

  it('judges alarms of ICP and CPP, and says why it judges no others', () => {
    const found = auditOf({
      alarms: [
        alarm(1010),
        alarm(1015, { parameter: { text: 'HR high', channel: 'hr', side: 'upper' } }),
        alarm(1020, { parameter: { text: 'XQZ', channel: null, side: null } }),
        alarm(4010, {
          parameter: { text: 'CPP', channel: 'cpp', side: null },
          side: null,
          limit: null,
        }),
        alarm(40_000),
      ],
    });
    expect(
      found.alarms.map(({ channel, side, limit, isLimitLogged, alarmClass }) => [
        channel,
        side,
        limit,
        isLimitLogged,
        alarmClass,
      ]),
    ).toEqual([
      ['icp', 'above', 22, true, 'sustained'],
      ['cpp', 'below', 60, false, 'sustained'],
    ]);
    expect(found.unjudged.map(({ parameter, why }) => [parameter, why])).toEqual([
      ['HR high', 'otherChannel'],
      ['XQZ', 'unknownParameter'],
      ['ICP high', 'outside'],
    ]);
    expect(found.lags.alarms).toBe(2);
    expect(found.lags.counts[found.lags.reachSeconds + 10]).toBe(2);
  });

  it('keeps to the period: alarms beside it are counted apart, and episodes that begin before it are none of it', () => {
    const period = { start: at(1500), end: at(4300) };
    const { alarms, unjudged, episodes, hours, replay } = auditOf(
      { alarms: [alarm(1010), alarm(2000)] },
      period,
    );
    expect(alarms.map(({ onset }) => onset)).toEqual([at(2000)]);
    expect(unjudged.map(({ why }) => why)).toEqual(['notInPeriod']);
    expect(episodes.map(({ channel }) => channel)).toEqual(['cpp']);
    expect(hours.reduce((sum, { icpMs }) => sum + icpMs, 0)).toBe(2_800_000);
    expect(replay?.episodes).toEqual([]);
  });

  it('counts treatments of the care log, or those alone that hold a given word', () => {
    const entry = (seconds: number, text: string) => ({
      start: at(seconds),
      end: null,
      kinds: ['treatment'] as const,
      angleDegrees: null,
      text,
    });
    const care = [entry(1300, 'Propofol bolus'), entry(1600, 'Hypertonic saline')];
    const minutes = (treatments: readonly string[] | null) =>
      auditOf({ alarms: [alarm(1000)], care }, WHOLE_DAY, { treatments }).episodes.find(
        ({ channel }) => channel === 'icp',
      )!.treated!.minutes;
    expect(minutes(null)).toBeCloseTo(5, 6);
    expect(minutes(['SALINE'])).toBeCloseTo(10, 6);
  });

  it('ends the clocks with death', () => {
    const [icp] = auditOf({ alarms: [alarm(1000)], diedAt: at(1600) }).episodes;
    expect(icp.treated).toEqual({ minutes: 10, outcome: 'died' });
  });

  it('sums the monitored hours to what is known', () => {
    const { hours, channels } = auditOf({});
    const sum = (key: 'icpMs' | 'cppMs') => hours.reduce((all, hour) => all + hour[key], 0) / 3_600_000;
    expect(sum('icpMs')).toBeCloseTo(channels.icp.rawHours, 9);
    expect(sum('cppMs')).toBeCloseTo(channels.cpp.rawHours, 9);
    expect(hours.every(({ start, end }) => end - start <= 3_600_000)).toBe(true);
  });

  it('tells nothing of a pressure that is not there or is sampled too coarsely', () => {
    const coarse = recordingOf({
      icp: everySeconds(
        120,
        Array.from({ length: 100 }, () => 30),
      ),
    });
    const audit = auditRecording(
      coarse,
      clean(coarse, {}),
      { ...LOGS, alarms: [alarm(600)] },
      {
        targets: ADULT,
        icpEpisodes: OVER_22,
        cppEpisodes: UNDER_60,
        night: { fromMinutes: 1140, toMinutes: 420 },
        agreement: { zeroMovedMmHg: 5 },
      },
      SETTINGS,
      WHOLE_DAY,
      new ZoneClock('UTC'),
    );
    expect(audit.channels.icp.episodesReason).toMatch(/^not resolvable at this sampling: every 120 s/);
    expect(audit.channels.cpp).toMatchObject({
      episodesReason: 'no data',
      intervalSeconds: null,
      rawHours: 0,
    });
    expect(audit.replay).toBeNull();
    expect(audit.alarms[0]).toMatchObject({ alarmClass: 'cannotTell' });
  });

  it('gives an alarm at the edge of two periods to one of them, and hears of alarms beside its own', () => {
    const [before, after] = [
      { start: at(0), end: at(2000) },
      { start: at(2000), end: at(7000) },
    ];
    const log = { alarms: [alarm(1970), alarm(2000)] };
    expect([before, after].map((period) => auditOf(log, period).alarms.length)).toEqual([1, 1]);
    const early = { start: at(0), end: at(1200) };
    // The alarm lies behind the period, and is one of the episode that begins in it.
    expect(auditOf({ alarms: [alarm(1250)] }, early).episodes[0]).toMatchObject({ notice: 'inTime' });
  });

  it('takes an alarm without an end for as long as its limit was passed', () => {
    const [icp] = auditOf({
      alarms: [alarm(1010, { limit: { value: 10, unit: 'mm[Hg]', side: 'upper' } })],
    }).episodes;
    expect(icp.notice).toBe('inTime');
    // Over 10 mmHg from the first second on, and so it is on when ICP passes 22.
    const early = alarm(5, { limit: { value: 10, unit: 'mm[Hg]', side: 'upper' } });
    expect(auditOf({ alarms: [early] }).episodes[0]).toMatchObject({
      notice: 'inTime',
      alarmAfterMinutes: 0,
    });
  });

  it('cannot say that none told of an episode where the log holds no alarm of its channel', () => {
    const { episodes } = auditOf({ alarms: [alarm(1010)], alarmedChannels: ['icp'] });
    expect(episodes.map(({ channel, notice }) => [channel, notice])).toEqual([
      ['icp', 'inTime'],
      ['cpp', 'notCovered'],
      ['cpp', 'notCovered'],
    ]);
  });
});
