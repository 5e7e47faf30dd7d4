import { describe, expect, it } from 'vitest';
import { withoutIntervals } from '../../../src/recording/signal.js';
import { findEpisodes } from '../../../src/segment/episodes.js';
import { AlarmJudge, type JudgedChannel, type Taken } from '../../../src/summarize/alarms/judge.js';
import { seconds } from '../../support/shapes.js';
import { everySeconds, T0 } from '../../support/signals.js';
import { OVER_22 } from '../../support/targets.js';

/** An hour at 1 Hz at 12 mmHg, with levels from a second on for some seconds; NaN leaves samples out. */
function hour(...parts: readonly (readonly [from: number, forSeconds: number, level: number])[]) {
  return everySeconds(
    1,
    Array.from({ length: 3601 }, (_, s) => {
      const part = parts.find(([from, length]) => s >= from && s < from + length);
      return part ? part[2] : 12;
    }),
  );
}

const channelOf = (
  raw: ReturnType<typeof hour>,
  taken: readonly Taken[] = [],
  intervalMs = 1000,
): JudgedChannel => {
  const cleaned = withoutIntervals(
    raw,
    taken.filter(({ grade }) => grade === 'removed'),
  );
  return {
    raw,
    cleaned,
    taken,
    intervalMs,
    side: 'above',
    sustained: findEpisodes(cleaned, OVER_22).episodes,
    times: OVER_22,
  };
};

const judge = (
  channel: JudgedChannel,
  onset: number,
  { limit = 22, treatments = [] as number[], side = 'above' as 'above' | 'below' } = {},
) =>
  new AlarmJudge(channel).judge(
    { onset: T0 + onset * 1000, limit, side },
    treatments.map((s) => T0 + s * 1000),
  );

const removed = (from: number, to: number, rule = 'briefSpike'): Taken => ({
  ...seconds(from, to),
  rule,
  grade: 'removed',
});

describe('an alarm', () => {
  it('is sustained where the rule of the unit finds an episode behind its crossing', () => {
    const channel = channelOf(hour([1000, 400, 30]));
    expect(judge(channel, 1010)).toMatchObject({ alarmClass: 'sustained', rule: null });
    const { crossing, back } = judge(channel, 1010);
    expect((crossing! - T0) / 1000).toBeCloseTo(999.6, 1);
    expect((back! - T0) / 1000).toBeCloseTo(1399.4, 1);
    // A second alarm in the same episode is another one of a sustained rise.
    expect(judge(channel, 1300).alarmClass).toBe('sustained');
  });

  it('is brief where the signal is back soon', () => {
    expect(judge(channelOf(hour([1000, 90, 30])), 1010).alarmClass).toBe('brief');
  });

  it('is cut short where a treatment was logged before the signal returned', () => {
    const channel = channelOf(hour([1000, 200, 30]));
    expect(judge(channel, 1010, { treatments: [500, 1100] }).alarmClass).toBe('cutShort');
    expect(judge(channel, 1010, { treatments: [900] }).alarmClass).toBe('brief');
    expect(judge(channel, 1010, { treatments: [1300] }).alarmClass).toBe('brief');
    // A sustained one stays sustained whatever was given.
    expect(judge(channelOf(hour([1000, 400, 30])), 1010, { treatments: [1100] }).alarmClass).toBe(
      'sustained',
    );
  });

  it('is long past its own limit where that is not the limit of the rule', () => {
    const channel = channelOf(hour([1000, 600, 20]));
    expect(judge(channel, 1010, { limit: 18 }).alarmClass).toBe('longPast');
    expect(judge(channel, 1010, { limit: 22 }).alarmClass).toBe('noCrossing');
  });

  it('is an artifact where a rule removed all that passed the limit', () => {
    const channel = channelOf(hour([1000, 8, 60]), [removed(999, 1008)]);
    expect(judge(channel, 1005)).toMatchObject({
      alarmClass: 'artifact',
      rule: 'briefSpike',
      crossing: null,
    });
    // A cough on a true rise does not make the rise an artifact.
    const onRise = channelOf(hour([1000, 8, 60], [1008, 500, 30]), [removed(999, 1007)]);
    expect(judge(onRise, 1012).alarmClass).toBe('sustained');
  });

  it('is suspect where the crossing stands in a suspect stretch, also where that stays in', () => {
    const step: Taken = { ...seconds(990, 2000), rule: 'step', grade: 'suspect' };
    expect(judge(channelOf(hour([1000, 900, 40]), [step]), 1010)).toMatchObject({
      alarmClass: 'suspect',
      rule: 'step',
    });
  });

  it('has no crossing where the signal was nowhere past the limit from 60 s before to 10 s after', () => {
    const channel = channelOf(hour([1000, 100, 30]));
    expect(judge(channel, 985).alarmClass).toBe('noCrossing');
    expect(judge(channel, 991).alarmClass).toBe('brief');
    expect(judge(channel, 1155).alarmClass).toBe('brief');
    expect(judge(channel, 1162).alarmClass).toBe('noCrossing');
  });

  it('cannot be told where there are no data, or too few', () => {
    const holed = channelOf(hour([900, 300, Number.NaN]));
    expect(judge(holed, 1000)).toMatchObject({ alarmClass: 'cannotTell', why: 'no data' });
    expect(judge(holed, 9000)).toMatchObject({ alarmClass: 'cannotTell', why: 'no data' });
    expect(judge(channelOf(hour([1000, 400, 30]), [], 60_000), 1010)).toMatchObject({
      alarmClass: 'cannotTell',
      why: 'a sample every 60 s, and 20 s are needed',
    });
    expect(judge(channelOf(hour(), [], Number.NaN), 1000).why).toBe('no data');
  });

  it('may be about a lower limit', () => {
    const channel = channelOf(hour([1000, 100, 2]));
    expect(judge(channel, 1010, { limit: 5, side: 'below' }).alarmClass).toBe('brief');
    expect(judge(channel, 1010, { limit: 1, side: 'below' }).alarmClass).toBe('noCrossing');
  });

  it('lets the excursion that says most count, where several are near the onset', () => {
    // A blip of 10 s, and 50 s later 19 min past the limit of the alarm and not of the rule.
    const signal = hour([1000, 10, 30], [1055, 1145, 21]);
    expect(judge(channelOf(signal), 1058, { limit: 20 })).toMatchObject({ alarmClass: 'longPast' });
    expect(judge(channelOf(signal), 1020, { limit: 20 }).alarmClass).toBe('brief');
  });

  it('cannot tell what missing data cut off before it was long, unless a treatment came', () => {
    const signal = hour([1000, 120, 40], [1120, 880, Number.NaN]);
    expect(judge(channelOf(signal), 1005)).toMatchObject({
      alarmClass: 'cannotTell',
      why: 'cut off by missing data',
    });
    expect(judge(channelOf(signal), 1005, { treatments: [1060] }).alarmClass).toBe('cutShort');
  });

  it('never calls an alarm of the other side sustained or cut short, and needs a limit', () => {
    const signal = hour([1000, 60, 5]);
    const low = judge(channelOf(signal), 1003, { limit: 8, side: 'below', treatments: [1020] });
    expect(low.alarmClass).toBe('brief');
    const without = new AlarmJudge(channelOf(signal)).judge(
      { onset: T0 + 1_003_000, limit: null, side: 'below' },
      [],
    );
    expect(without).toMatchObject({ alarmClass: 'cannotTell', why: 'the log gives no limit' });
  });

  it('finds the mark that took a crossing among many, also a long one that began before others', () => {
    const many = Array.from({ length: 200 }, (_, i) => removed(10 * i, 10 * i + 2, 'other'));
    const taken = [removed(500, 3500, 'long'), ...many].sort((a, b) => a.start - b.start);
    expect(judge(channelOf(hour([3000, 30, 40]), taken), 3005)).toMatchObject({
      alarmClass: 'artifact',
      rule: 'long',
    });
  });
});
