import { describe, expect, it } from 'vitest';
import { findEpisodes } from '../../../src/segment/episodes.js';
import { stretchesPast } from '../../../src/segment/stretches.js';
import { type ResponseTask, responses } from '../../../src/summarize/alarms/response.js';
import { everySeconds, T0 } from '../../support/signals.js';
import { OVER_22 } from '../../support/targets.js';

/** Two hours at 1 Hz at 12 mmHg, at 30 over the given spans, missing over others; seconds. */
const course = (
  high: readonly (readonly [number, number])[],
  missing: readonly (readonly [number, number])[] = [],
) =>
  everySeconds(
    1,
    Array.from({ length: 7201 }, (_, s) => {
      const isIn = (spans: readonly (readonly [number, number])[]) => spans.some(([a, b]) => s >= a && s < b);
      return isIn(missing) ? Number.NaN : isIn(high) ? 30 : 12;
    }),
  );

const at = (seconds: number): number => T0 + seconds * 1000;

function responseOf(signal: ReturnType<typeof course>, more: Partial<ResponseTask> = {}) {
  const { episodes } = findEpisodes(signal, OVER_22);
  const task = {
    stretches: stretchesPast(signal, 22, 'above'),
    minSeconds: 300,
    bridgeSeconds: 120,
    alarmsUntil: Number.POSITIVE_INFINITY,
    careUntil: Number.POSITIVE_INFINITY,
    alarms: null,
    treatments: null,
    diedAt: null,
  };
  return responses(episodes, { ...task, ...more });
}

const rounded = <T extends { minutes: number } | null>(time: T) =>
  time && { ...time, minutes: Math.round(time.minutes * 10) / 10 };

describe('the response to a sustained episode', () => {
  const signal = course([[1000, 2200]]);

  it('is counted from the alarm, and resolution from when the rule was met', () => {
    const [found, ...none] = responseOf(signal, {
      alarms: [{ onset: at(1015), acknowledged: at(1135), ended: null }],
      treatments: [at(500), at(1315), at(1900)],
    });
    expect(none).toEqual([]);
    expect(found.hadAlarm).toBe(true);
    expect(rounded(found.acknowledged)).toEqual({ minutes: 2, outcome: 'happened' });
    expect(rounded(found.treated)).toEqual({ minutes: 5, outcome: 'happened' });
    // Over from second 2199.6 on; the rule was met at 1299.6.
    expect(rounded(found.resolved)).toEqual({ minutes: 15, outcome: 'happened' });
  });

  it('is counted from the crossing where no alarm came', () => {
    const [found] = responseOf(signal, { alarms: [], treatments: [at(1600)] });
    expect(found.hadAlarm).toBe(false);
    expect(rounded(found.treated)).toEqual({ minutes: 10, outcome: 'happened' });
    expect(rounded(found.acknowledged)).toEqual({ minutes: 20, outcome: 'resolved' });
  });

  it('takes the first of its alarms that somebody acknowledged, from the first on', () => {
    const [found] = responseOf(signal, {
      alarms: [
        { onset: at(600), acknowledged: at(601), ended: null },
        { onset: at(990), acknowledged: null, ended: null },
        { onset: at(1200), acknowledged: at(1290), ended: null },
        { onset: at(2500), acknowledged: at(2501), ended: null },
      ],
    });
    expect(rounded(found.acknowledged)).toEqual({ minutes: 5, outcome: 'happened' });
  });

  it('took no time where a treatment came between the crossing and a later alarm', () => {
    const [found] = responseOf(signal, {
      alarms: [{ onset: at(1400), acknowledged: null, ended: null }],
      treatments: [at(1100)],
    });
    expect(rounded(found.treated)).toEqual({ minutes: 0, outcome: 'happened' });
  });

  it('is told of at its crossing by an alarm that was on before, and not by one that had ended', () => {
    const early = { onset: at(300), acknowledged: at(500) };
    const [on] = responseOf(signal, { alarms: [{ ...early, ended: at(1300) }], treatments: [at(1600)] });
    expect(on.hadAlarm).toBe(true);
    expect(rounded(on.acknowledged)).toEqual({ minutes: 0, outcome: 'happened' });
    expect(rounded(on.treated)).toEqual({ minutes: 10, outcome: 'happened' });
    expect(responseOf(signal, { alarms: [{ ...early, ended: at(900) }] })[0].hadAlarm).toBe(false);
  });

  it('ends with resolution where nobody treated, and with death', () => {
    expect(rounded(responseOf(signal, { treatments: [at(3000)] })[0].treated)).toEqual({
      minutes: 20,
      outcome: 'resolved',
    });
    const [died] = responseOf(signal, { treatments: [], diedAt: at(1600) });
    expect(rounded(died.treated)).toEqual({ minutes: 10, outcome: 'died' });
    expect(rounded(died.resolved)).toEqual({ minutes: 5, outcome: 'died' });
  });

  it('is resolved by 5 min in a row, and not by less', () => {
    const [found] = responseOf(
      course([
        [1000, 2200],
        [2400, 2500],
      ]),
    );
    expect(rounded(found.resolved)).toEqual({ minutes: 20, outcome: 'happened' });
  });

  it('is cut off by a gap and by the end of data, and never dropped', () => {
    const [gap] = responseOf(course([[1000, 2200]], [[2200, 3000]]));
    expect(gap.episode.openEnd).toBe(true);
    expect(rounded(gap.resolved)).toEqual({ minutes: 15, outcome: 'cut' });
    const [end] = responseOf(course([[6000, 7201]]), { treatments: [] });
    expect(rounded(end.treated)).toEqual({ minutes: 20, outcome: 'cut' });
    // A gap within the 5 min of calm: nobody knows what stood there, nor whether the calm would have lasted.
    const [within] = responseOf(course([[1000, 2200]], [[2300, 2900]]), { treatments: [at(2250)] });
    expect(rounded(within.resolved)).toEqual({ minutes: 15, outcome: 'cut' });
    expect(rounded(within.treated)).toEqual({ minutes: 20, outcome: 'cut' });
  });

  it('is not cut off by a short hole, as of a cough that was removed, which does not count as known', () => {
    const [found] = responseOf(course([[1000, 2200]], [[2300, 2360]]));
    expect(rounded(found.resolved)).toEqual({ minutes: 15, outcome: 'happened' });
    const holes = [0, 1, 2].map((k): [number, number] => [2260 + k * 160, 2360 + k * 160]);
    // 60 s known at a time, and then 5 min of 30 mmHg: three of them are not enough.
    const [short] = responseOf(
      course(
        [
          [1000, 2200],
          [2740, 3100],
        ],
        holes,
      ),
    );
    expect(rounded(short.resolved)).toEqual({ minutes: 30, outcome: 'happened' });
  });

  it('is followed no further than the logs tell', () => {
    const until = { alarmsUntil: at(1300), careUntil: at(1600) };
    const [found] = responseOf(signal, { alarms: [], treatments: [at(1900)], ...until });
    expect(rounded(found.acknowledged)).toEqual({ minutes: 5, outcome: 'cut' });
    expect(rounded(found.treated)).toEqual({ minutes: 10, outcome: 'cut' });
    expect(found.followedMinutes).toBeCloseTo(10, 1);
  });

  it('ends with a death that follows the last data within a day, and not with a later one', () => {
    const open = course([[6000, 7201]]);
    expect(rounded(responseOf(open, { diedAt: at(7200 + 3600) })[0].resolved)).toEqual({
      minutes: 15,
      outcome: 'died',
    });
    expect(responseOf(open, { diedAt: at(7200 + 90_000) })[0].resolved.outcome).toBe('cut');
    // Dead before a late alarm: no time was left.
    const late = { alarms: [{ onset: at(1800), acknowledged: null, ended: null }], treatments: [] };
    expect(rounded(responseOf(signal, { ...late, diedAt: at(1500) })[0].treated)).toEqual({
      minutes: 0,
      outcome: 'died',
    });
  });

  it('does not take the alarm of the episode before for its own', () => {
    const found = responseOf(
      course([
        [1000, 2200],
        [2240, 2900],
      ]),
      {
        alarms: [{ onset: at(2195), acknowledged: null, ended: at(2198) }],
      },
    );
    expect(found.map(({ hadAlarm }) => hadAlarm)).toEqual([true, false]);
  });

  it('says nothing of what no log was given for', () => {
    expect(responseOf(signal)[0]).toMatchObject({ acknowledged: null, treated: null });
  });
});
