import { renderToStaticMarkup as render } from 'preact-render-to-string';
import { describe, expect, it } from 'vitest';
import type { LoggedAlarm } from '../../src/ingest/tables/logged-alarms.js';
import type { CareKind } from '../../src/recording/care.js';
import { ZoneClock } from '../../src/recording/zone.js';
import { alarmWords } from '../../src/report/alarm-words.js';
import { bedsideOf } from '../../src/report/bedside-of.js';
import { bedsideResult } from '../../src/report/bedside-result.js';
import { bedsideEvents } from '../../src/report/morning/bedside-events.js';
import { BedsideTable } from '../../src/report/morning/bedside-table.js';
import { eventWords } from '../../src/report/morning/bedside-words.js';
import { laneWords } from '../../src/report/morning/chart-keys.js';

const MIN = 60_000;
const EXTENT = { extent: { start: 0, end: 600 * MIN } };

const alarm = (more: Partial<LoggedAlarm> = {}): LoggedAlarm => ({
  start: 0,
  end: null,
  acknowledged: null,
  parameter: { text: 'ICP', channel: 'icp', side: null },
  limit: { value: 22, unit: 'mm[Hg]', side: null },
  side: 'upper',
  priority: null,
  message: null,
  ...more,
});
const entry = (minute: number, kinds: readonly CareKind[], text = 'x', end: number | null = null) => ({
  ...{ start: minute * MIN, end: end === null ? null : end * MIN, angleDegrees: null },
  kinds,
  text,
});
const of = (text: string, channel: LoggedAlarm['parameter']['channel']) => ({ text, channel, side: null });

describe('an alarm in words', () => {
  it.each<[string, Partial<LoggedAlarm>]>([
    ['ICP above 22 mmHg', {}],
    [
      'CPP below 60 mmHg',
      { parameter: of('CPP', 'cpp'), side: 'lower', limit: { value: 60, unit: null, side: null } },
    ],
    ['ICP above 22.5 mmHg', { limit: { value: 22.501_85, unit: 'mm[Hg]', side: null } }],
    [
      'Heart rate above 120/min',
      { parameter: of('HR', 'hr'), limit: { value: 120, unit: '/min', side: null } },
    ],
    [
      'SpO2 below 90 %',
      { parameter: of('Sat', 'spo2'), side: 'lower', limit: { value: 90, unit: '%', side: null } },
    ],
    ['ICP above its limit', { limit: null }],
    ['ICP, limit 22 mmHg', { side: null }],
    ['ICP transducer fault', { side: null, limit: null, message: 'ICP transducer fault' }],
    ['ICP', { side: null, limit: null }],
    ['Probe off', { parameter: of('Probe off', null), side: null, limit: null }],
    [
      `${'x'.repeat(40)}...`,
      { parameter: of('x'.repeat(200), null), limit: { value: 1, unit: 'L', side: null } },
    ],
    ['a b', { parameter: of('a\u0000\nb', null) }],
  ])('%s', (words, more) => {
    expect(alarmWords(alarm(more))).toBe(words);
  });
});

describe('the bedside of a patient', () => {
  it('knows no log from an empty one', () => {
    expect(bedsideOf(null, null, EXTENT)).toEqual({ alarms: null, entries: null, drainOpen: [] });
    expect(bedsideOf([], [], EXTENT)).toEqual({ alarms: [], entries: [], drainOpen: [] });
  });

  it('holds alarms and entries as they were logged, treatments told apart', () => {
    const care = [
      entry(1, ['turn', 'treatment'], 'turned, propofol bolus', 3),
      entry(2, ['headOfBed'], 'HOB 30'),
    ];
    const times = { start: 5, end: 8, acknowledged: 6 };
    expect(bedsideOf([alarm(times)], care, EXTENT)).toEqual({
      alarms: [{ ...times, text: 'ICP above 22 mmHg' }],
      entries: [
        { start: MIN, end: 3 * MIN, isTreatment: true, text: 'turned, propofol bolus' },
        { start: 2 * MIN, end: null, isTreatment: false, text: 'HOB 30' },
      ],
      drainOpen: [],
    });
  });

  it('takes the drain as open from an opening to the closing, or to the end of the recording', () => {
    const care = [
      entry(10, ['drainClosed']),
      entry(20, ['drainOpen']),
      entry(25, ['drainOpen']),
      entry(30, ['drainClosed']),
      entry(40, ['drainOpen'], 'x', 45),
      entry(50, ['drainOpen']),
    ];
    expect(bedsideOf(null, care, EXTENT).drainOpen.map(({ start, end }) => [start / MIN, end / MIN])).toEqual(
      [
        [20, 30],
        [40, 45],
        [50, 600],
      ],
    );
  });
});

describe('the bedside in results.json', () => {
  const clock = new ZoneClock('UTC');
  const period = { start: 100 * MIN, end: 200 * MIN };
  const at = (...spans: readonly (readonly [number, number | null])[]) =>
    spans.map(([start, end]) => alarm({ start: start * MIN, end: end === null ? null : end * MIN }));

  it('is what shares time with the period and 30 min on both sides', () => {
    const alarms = at([0, 69], [0, 71], [60, null], [70, null], [100, 110], [230, null], [231, 400]);
    const care = [entry(0, ['drainOpen']), entry(69, ['drainClosed']), entry(150, ['other'], 'y'.repeat(60))];
    const result = bedsideResult(bedsideOf(alarms, care, EXTENT), { period, episodes: [] }, clock);
    expect(result.alarms?.map(({ start }) => start)).toEqual(
      [0, 70, 100, 230].map((minute) => clock.format(minute * MIN)),
    );
    expect(result.entries).toEqual([
      { start: clock.format(150 * MIN), end: null, isTreatment: false, text: `${'y'.repeat(40)}...` },
    ]);
    expect(result.drainOpen).toEqual([]);
  });

  it('holds an alarm that was acknowledged in that time, however long it had been over', () => {
    const times = { start: 10 * MIN, end: 12 * MIN, acknowledged: 120 * MIN };
    const alarms = [
      alarm(times),
      alarm({ ...times, end: null }),
      alarm({ ...times, acknowledged: 60 * MIN }),
    ];
    const { alarms: told } = bedsideResult(bedsideOf(alarms, null, EXTENT), { period, episodes: [] }, clock);
    expect(told?.map(({ end, acknowledged }) => [end, acknowledged])).toEqual([
      [clock.format(12 * MIN), clock.format(120 * MIN)],
      [null, clock.format(120 * MIN)],
    ]);
  });

  it('holds what the strip of an episode shows that began long before', () => {
    const episodes = [{ start: 30 * MIN, end: 110 * MIN }];
    const care = [19, 20, 60].map((minute) => entry(minute, ['treatment'], `at ${minute}`));
    const result = bedsideResult(
      bedsideOf(at([19, null], [20, null]), care, EXTENT),
      { period, episodes },
      clock,
    );
    expect(result.alarms?.map(({ start }) => start)).toEqual([clock.format(20 * MIN)]);
    expect(result.entries?.map(({ text }) => text)).toEqual(['at 20', 'at 60']);
  });

  it('gives a drain that is never logged as closed no end', () => {
    const care = [entry(110, ['drainOpen']), entry(120, ['drainClosed']), entry(130, ['drainOpen'])];
    const { drainOpen } = bedsideResult(bedsideOf(null, care, EXTENT), { period, episodes: [] }, clock);
    expect(drainOpen).toEqual([
      { start: clock.format(110 * MIN), end: clock.format(120 * MIN) },
      { start: clock.format(130 * MIN), end: null },
    ]);
    expect(bedsideEvents({ alarms: null, entries: null, drainOpen }).map(({ what }) => what)).toEqual([
      'Drain open from',
      'Drain open to',
      'Drain open from',
    ]);
  });
});

describe('what logs tell, on a page', () => {
  const clock = new ZoneClock('Europe/Oslo');
  /** The night in which the clock is set back from 03:00 to 02:00. */
  const start = Date.parse('2031-10-25T17:00:00Z');
  const period = { start: clock.format(start), end: clock.format(start + 13 * 60 * MIN) };
  const nightOf = (count: number) =>
    bedsideEvents(
      bedsideResult(
        bedsideOf(
          Array.from({ length: count }, (_, i) => alarm({ start: start + (7 * 60 + 30 + 60 * i) * MIN })),
          null,
          { extent: { start, end: start } },
        ),
        { period: { start, end: start + 13 * 60 * MIN }, episodes: [] },
        clock,
      ),
    );

  it('is at one instant each, also in an hour that comes twice', () => {
    const events = nightOf(2);
    expect(eventWords(events, period)).toBe(
      '02:30 +02:00 Alarm: ICP above 22 mmHg; 02:30 +01:00 Alarm: ICP above 22 mmHg',
    );
    const table = render(BedsideTable({ events, period })!);
    expect(table).toContain('>02:30:00 +02:00<');
    expect(table).toContain('>02:30:00 +01:00<');
  });

  it('has a key for each mark that the chart draws, and for no other', () => {
    const local = (minute: number): string => clock.format(start + minute * MIN);
    const hour = { start, end: start + 60 * MIN };
    const bedside = {
      alarms: [
        { start: local(10), end: local(20), acknowledged: local(70), text: 'x' },
        { start: local(90), end: null, acknowledged: null, text: 'x' },
      ],
      entries: [
        { start: local(30), end: local(40), isTreatment: true, text: 'x' },
        { start: local(90), end: null, isTreatment: true, text: 'x' },
      ],
      drainOpen: [{ start: local(90), end: null }],
    };
    expect(laneWords(bedside, hour)).toBe(
      'In the rows below, bar: alarm; triangle: treatment; line: while it lasted.',
    );
    expect(laneWords(bedside, { start: hour.end, end: start + 120 * MIN })).toBe(
      'In the rows below, stroke and thin line: alarm whose end is not in the log; white circle: acknowledged; triangle: treatment; frame: drain open.',
    );
    expect(laneWords(bedside, { start: start + 41 * MIN, end: hour.end })).toBe('');
  });

  it('is no longer than a page can hold, and says so', () => {
    const [one] = nightOf(1);
    const events = Array.from({ length: 1000 }, () => one);
    const table = render(BedsideTable({ events, period })!);
    expect(table.match(/<tr>/g)).toHaveLength(201);
    expect(table).toContain('The first 200 of 1000; tables/bedside.csv has all of them.');
    expect(eventWords(events, period).split('; ')).toHaveLength(21);
    expect(eventWords(events, period)).toMatch(/; and 980 more$/);
    expect(render(BedsideTable({ events: events.slice(0, 200), period })!)).not.toContain('The first');
  });
});
