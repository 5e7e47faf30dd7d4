import { describe, expect, it } from 'vitest';
import type { Cleaning } from '../../src/clean/clean.js';
import type { Mark } from '../../src/clean/rule.js';
import { cleaningAccount } from '../../src/summarize/cleaning-account.js';
import { recordingOf } from '../support/recordings.js';
import { seconds } from '../support/shapes.js';
import { everySeconds } from '../support/signals.js';
import { ADULT } from '../support/targets.js';

const HOUR = seconds(0, 3600);
/** An hour at 32 mmHg, MAP 80: dose 10 mmHg.h, CPP 48. */
const recording = recordingOf({
  icp: everySeconds(1, Array(3601).fill(32)),
  map: everySeconds(1, Array(3601).fill(80)),
});
const cleaningOf = (...marks: Mark[]): Cleaning => ({ marks, rulesOn: [], stoodAside: [] });
const removed = (rule: string, from: number, to: number, channel: 'icp' | 'map' = 'icp'): Mark => ({
  channel,
  rule,
  grade: 'removed',
  ...seconds(from, to),
});
const suspect = (rule: string, direction: 'up' | 'down', from: number, to: number): Mark => ({
  channel: 'icp',
  rule,
  grade: 'suspect',
  direction,
  ...seconds(from, to),
});

describe('the account of cleaning', () => {
  it('counts each second for the first rule in the list that took it', () => {
    // Spikes stand behind zeroing in the list: 601..1200 goes to zeroing, and only the rest to the spikes.
    const cleaning = cleaningOf(removed('briefSpike', 901, 1800), removed('zeroing', 601, 1200));
    const { takes, channels } = cleaningAccount(recording, cleaning, HOUR, ADULT);
    expect(takes.map(({ rule, intervals }) => [rule, intervals])).toEqual([
      ['zeroing', 1],
      ['briefSpike', 1],
    ]);
    // A removed sample takes the piece before and the piece after it along.
    expect(takes[0].hours).toBeCloseTo(601 / 3600, 9);
    expect(takes[1].hours).toBeCloseTo(600 / 3600, 9);
    expect(takes[1].shareOfPeriod).toBeCloseTo(600 / 3600, 9);
    expect(channels[0].keptHours).toBeCloseTo((3600 - 1201) / 3600, 9);
    expect(channels[1]).toMatchObject({ channel: 'map', keptShare: 1, noDataShare: 0 });
  });
  it('counts what is removed before what is suspect, whatever their places in the list', () => {
    const cleaning = cleaningOf(suspect('zeroing', 'down', 0, 1800), removed('briefSpike', 600, 700));
    const { takes } = cleaningAccount(recording, cleaning, HOUR, ADULT);
    expect(takes.map(({ rule, grade }) => [rule, grade])).toEqual([
      ['briefSpike', 'removed'],
      ['zeroing', 'suspect'],
    ]);
    expect(takes[0].hours).toBeCloseTo(102 / 3600, 9);
    expect(takes[1].hours).toBeCloseTo((1801 - 102) / 3600, 9);
  });
  it('names upward suspect stretches and keeps them', () => {
    const { takes, channels } = cleaningAccount(
      recording,
      cleaningOf(suspect('step', 'up', 0, 1800)),
      HOUR,
      ADULT,
    );
    expect(takes[0]).toMatchObject({ rule: 'step', staysIn: true });
    expect(takes[0].hours).toBeCloseTo(1801 / 3600, 9);
    expect(channels[0].keptShare).toBe(1);
  });
  it('shows the headline figures with each rule left out', () => {
    const cleaning = cleaningOf(removed('zeroing', 0, 899), removed('briefSpike', 2700, 3600, 'icp'));
    const { takes } = cleaningAccount(recording, cleaning, HOUR, ADULT);
    const [zeroing, spikes] = takes.map(({ without }) => without);
    expect(zeroing.icpHoursAboveThreshold).toBeCloseTo(2699 / 3600, 9);
    expect(zeroing.icpDoseMmHgHours).toBeCloseTo((10 * 2699) / 3600, 9);
    expect(zeroing.cppHoursBelowFloor).toBeCloseTo(2699 / 3600, 9);
    expect(spikes.cppDoseBelowFloorMmHgHours).toBeCloseTo((12 * 2700) / 3600, 9);
  });
  it('tells time without data from time with blanks', () => {
    const values = Array.from({ length: 3601 }, (_, i) =>
      (i > 600 && i < 1200) || i > 3000 ? Number.NaN : 12,
    );
    const gappy = recordingOf({ icp: everySeconds(1, values) }, { icp: [seconds(600, 1200)] });
    const blank: Mark = {
      ...removed('disconnected', 0, 0),
      start: seconds(600, 0).start + 1,
      end: seconds(1200, 0).start - 1,
    };
    const { takes, channels } = cleaningAccount(gappy, cleaningOf(blank), HOUR, ADULT);
    // The mark spares the samples at both ends, by a millisecond each.
    expect(takes[0].hours).toBeCloseTo(600 / 3600, 5);
    expect(channels[0].noDataHours).toBeCloseTo(600 / 3600, 5);
    expect(channels[0].keptHours).toBeCloseTo(2400 / 3600, 9);
  });
  it('does not call blank what is known, where a channel came more rarely than the rows', () => {
    // A sample a minute among rows with blanks: the lines between are known, so nothing was disconnected.
    const sparse = recordingOf({ icp: everySeconds(60, Array(61).fill(12)) });
    const blank: Mark = {
      ...removed('disconnected', 0, 0),
      start: seconds(600, 0).start + 1,
      end: seconds(660, 0).start - 1,
    };
    const { takes, channels } = cleaningAccount(sparse, cleaningOf(blank), HOUR, ADULT);
    expect(takes[0]?.hours ?? 0).toBe(0);
    expect(channels[0]).toMatchObject({ keptShare: 1, noDataShare: 0 });
  });
  it('counts a mark that ends just before the period where its piece reaches into it', () => {
    const coarse = recordingOf({ icp: everySeconds(5, Array(721).fill(12)) });
    const { takes, channels } = cleaningAccount(
      coarse,
      cleaningOf(removed('briefSpike', 590, 600)),
      seconds(602, 1202),
      ADULT,
    );
    expect(takes[0].hours).toBeCloseTo(3 / 3600, 9);
    expect(channels[0].keptHours).toBeCloseTo(597 / 3600, 9);
  });
  it('counts a single removed sample at the very start of the period', () => {
    const { takes, channels } = cleaningAccount(
      recording,
      cleaningOf(removed('outsideRange', 600, 600)),
      seconds(600, 1200),
      ADULT,
    );
    expect(takes[0]).toMatchObject({ rule: 'outsideRange', intervals: 1 });
    expect(takes[0].hours).toBeCloseTo(1 / 3600, 9);
    expect(channels[0].keptHours).toBeCloseTo(599 / 3600, 9);
  });
  it('gives nothing a share of a period of no length, as of a single row', () => {
    const { channels } = cleaningAccount(
      recordingOf({ icp: everySeconds(1, [12]) }),
      cleaningOf(),
      seconds(0, 0),
      ADULT,
    );
    expect(channels).toEqual([
      { channel: 'icp', keptHours: 0, noDataHours: 0, keptShare: 0, noDataShare: 0 },
    ]);
  });
  it('is all kept where nothing was marked, and holds no line for a channel that is not there', () => {
    const icpOnly = recordingOf({ icp: everySeconds(1, Array(3601).fill(12)) });
    expect(cleaningAccount(icpOnly, cleaningOf(), HOUR, ADULT)).toEqual({
      takes: [],
      channels: [{ channel: 'icp', keptHours: 1, noDataHours: 0, keptShare: 1, noDataShare: 0 }],
      withoutDecisions: null,
    });
  });
});
