import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CleanSettings, clean, cleanedSignal } from '../../src/clean/clean.js';
import { applyDecisions, type Decision, overruled, reachOf } from '../../src/clean/decisions.js';
import type { Mark } from '../../src/clean/rule.js';
import { RULES } from '../../src/clean/rules.js';
import type { ChannelKind } from '../../src/recording/channel.js';
import type { Interval } from '../../src/recording/interval.js';
import { ZoneClock } from '../../src/recording/zone.js';
import { cleaningAccount } from '../../src/summarize/cleaning-account.js';
import { monitoredHours } from '../../src/summarize/time.js';
import { holds, intervals, signals } from '../support/properties.js';
import { recordingOf } from '../support/recordings.js';
import { levels } from '../support/rules.js';
import { seconds } from '../support/shapes.js';
import { everySeconds, T0 } from '../support/signals.js';
import { ADULT } from '../support/targets.js';

const CHANNELS = ['icp', 'map'] as const;

const mark = (rule: string, span: Interval, more: Partial<Mark> = {}): Mark => ({
  channel: 'icp',
  rule,
  grade: 'removed',
  ...span,
  ...more,
});

const decision = (word: Decision['decision'], span: Interval, more: Partial<Decision> = {}): Decision => ({
  channel: 'icp',
  decision: word,
  direction: word === 'suspect' ? 'down' : null,
  reviewer: 'AB',
  ...span,
  ...more,
});

describe('a decision', () => {
  const cough = mark('briefSpike', seconds(100, 110));

  it('keeps a stretch: no mark of any rule counts there', () => {
    const all = [
      cough,
      mark('handling', seconds(90, 130)),
      mark('flush', seconds(100, 110), { channel: 'map' }),
    ];
    expect(applyDecisions(all, [decision('keep', seconds(100, 110))])).toEqual([
      { ...all[1], end: T0 + 99_499 },
      all[2],
      { ...all[1], start: T0 + 110_500 },
    ]);
  });

  it('removes a stretch, in the name of who decided', () => {
    expect(applyDecisions([cough], [decision('remove', seconds(105, 200))])).toEqual([
      { ...cough, end: T0 + 104_499 },
      mark('reviewed', { start: T0 + 104_500, end: T0 + 200_499 }, { decidedBy: 'AB' }),
    ]);
  });

  it('makes suspect what a rule had removed', () => {
    const up = decision('suspect', seconds(100, 110), { direction: 'up' });
    expect(applyDecisions([cough], [up])).toEqual([
      mark('reviewed', reachOf(up), { grade: 'suspect', direction: 'up', decidedBy: 'AB' }),
    ]);
  });

  it('keeps the second that a kept stretch shares with a removed one', () => {
    const marks = applyDecisions(
      [],
      [decision('keep', seconds(10, 20)), decision('remove', seconds(20, 30))],
    );
    expect(marks).toMatchObject([{ start: T0 + 20_500, end: T0 + 30_499 }]);
  });

  it('names the rules that it overrules', () => {
    const other = mark('flush', seconds(100, 110), { channel: 'map' });
    expect(overruled(decision('keep', seconds(110, 120)), [cough, other, cough])).toEqual(['briefSpike']);
    expect(overruled(decision('keep', seconds(111, 120)), [cough])).toEqual([]);
  });

  it('reaches all instants that a table writes as one of its seconds, and no others', () => {
    const clock = new ZoneClock('UTC');
    const written = (ms: number): string => clock.format(ms);
    const { start, end } = reachOf(seconds(5, 9));
    expect([start, end].map(written)).toEqual([T0 + 5000, T0 + 9000].map(written));
    expect([start - 1, end + 1].map(written)).toEqual([T0 + 4000, T0 + 10_000].map(written));
  });
});

const anyMarks: fc.Arbitrary<Mark[]> = fc.array(
  fc
    .record({
      channel: fc.constantFrom(...CHANNELS),
      rule: fc.constantFrom(...RULES.map(({ name }) => name).filter((name) => name !== 'disconnected')),
      kind: fc.constantFrom('removed', 'up', 'down'),
      span: intervals(200_000),
    })
    .map(
      ({ kind, span, ...rest }): Mark =>
        kind === 'removed'
          ? { ...rest, ...span, grade: 'removed' }
          : { ...rest, ...span, grade: 'suspect', direction: kind === 'up' ? 'up' : 'down' },
    ),
  { maxLength: 8 },
);

/** On whole seconds, as a table gives them. */
const anyDecisions: fc.Arbitrary<Decision[]> = fc.array(
  fc
    .record({
      channel: fc.constantFrom(...CHANNELS),
      word: fc.constantFrom('keep', 'remove', 'suspect'),
      direction: fc.constantFrom('up', 'down'),
      span: intervals(200_000),
    })
    .map(({ word, direction, span: { start, end }, channel }) =>
      decision(
        word,
        { start: Math.round(start / 1000) * 1000, end: Math.round(end / 1000) * 1000 },
        { channel, direction: word === 'suspect' ? direction : null },
      ),
    ),
  { maxLength: 5 },
);

const holdsInstant = ({ start, end }: Interval, t: number): boolean => start <= t && t <= end;
const at = <T extends Interval & { channel: ChannelKind }>(
  all: readonly T[],
  channel: string,
  t: number,
): T[] => all.filter((one) => one.channel === channel && holdsInstant(one, t));

/** A millisecond near an end of one of the stretches, where mistakes would be made. */
const instants = fc.tuple(fc.nat(), fc.constantFrom(-501, -500, -1, 0, 1, 499, 500));
const instantOf = (stretches: readonly Interval[], [i, shift]: [number, number]): number => {
  const ends = stretches.flatMap(({ start, end }) => [start, end]);
  return ends.length === 0 ? T0 : ends[i % ends.length] + shift;
};

describe('any decisions on any marks', () => {
  const cases = fc.tuple(anyMarks, anyDecisions, instants, fc.constantFrom(...CHANNELS));

  it('leave no mark where something was kept', () => {
    holds(
      fc.property(cases, ([marks, decisions, instant, channel]) => {
        const t = instantOf([...marks, ...decisions], instant);
        const kept = decisions
          .filter(({ decision: word }) => word === 'keep')
          .map((d) => ({ ...d, ...reachOf(d) }));
        fc.pre(at(kept, channel, t).length > 0);
        expect(at(applyDecisions(marks, decisions), channel, t)).toEqual([]);
      }),
      2000,
    );
  });

  it('mark all that was removed or called suspect, and there nothing that a rule says', () => {
    holds(
      fc.property(cases, ([marks, decisions, instant, channel]) => {
        const t = instantOf([...marks, ...decisions], instant);
        const here = at(
          decisions.map((d) => ({ ...d, ...reachOf(d) })),
          channel,
          t,
        );
        fc.pre(here.length > 0 && here.every(({ decision: word }) => word !== 'keep'));
        const found = at(applyDecisions(marks, decisions), channel, t);
        expect(found.map(({ rule, grade, direction }) => [rule, grade, direction ?? null])).toEqual(
          expect.arrayContaining(
            here.map(({ decision: word, direction }) => [
              'reviewed',
              word === 'remove' ? 'removed' : 'suspect',
              direction,
            ]),
          ),
        );
        expect(found.every(({ rule }) => rule === 'reviewed')).toBe(true);
      }),
      2000,
    );
  });

  it('change nothing elsewhere', () => {
    holds(
      fc.property(cases, ([marks, decisions, instant, channel]) => {
        const t = instantOf([...marks, ...decisions], instant);
        const reached = decisions.map((d) => ({ ...d, ...reachOf(d) }));
        // Marks are cut 1 ms beside a decision.
        fc.pre([t - 1, t, t + 1].every((near) => at(reached, channel, near).length === 0));
        const says = (all: readonly Mark[]) =>
          at(all, channel, t).map(({ rule, grade, direction }) => ({ rule, grade, direction }));
        const order = (a: object, b: object) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1);
        expect(says(applyDecisions(marks, decisions)).sort(order)).toEqual(says(marks).sort(order));
      }),
      2000,
    );
  });

  it('stand by their start, none ending before it starts', () => {
    holds(
      fc.property(anyMarks, anyDecisions, (marks, decisions) => {
        const all = applyDecisions(marks, decisions);
        expect(all.every(({ start, end }, i) => start <= end && (i === 0 || all[i - 1].start <= start))).toBe(
          true,
        );
      }),
    );
  });

  it('leave the shares of each channel adding up to the period', () => {
    holds(
      fc.property(
        signals(),
        signals(),
        anyMarks,
        anyDecisions,
        intervals(),
        (icp, map, undecided, decided, period) => {
          fc.pre(period.end > period.start);
          const recording = recordingOf({ icp, map });
          const marks = applyDecisions(undecided, decided);
          const cleaning = { marks, rulesOn: [], stoodAside: [], decided, undecided };
          const { takes, channels } = cleaningAccount(recording, cleaning, period, ADULT);
          for (const { channel, keptShare, noDataShare, keptHours } of channels) {
            const taken = takes.filter((take) => take.channel === channel && !take.staysIn);
            const sum = taken.reduce(
              (all, { shareOfPeriod }) => all + shareOfPeriod,
              keptShare + noDataShare,
            );
            expect(sum).toBeCloseTo(1, 9);
            expect(keptHours).toBeCloseTo(
              monitoredHours(cleanedSignal(recording, channel, cleaning), period),
              9,
            );
          }
        },
      ),
    );
  });
});

const LIVELY = (k: number): number => 12 + (k % 3) / 10;

describe('cleaning with decisions', () => {
  const settings: CleanSettings = Object.fromEntries(
    RULES.map(({ name, parameters }) => [name, parameters.parse({}) as object]),
  );
  const recording = recordingOf({
    icp: everySeconds(1, levels([600, LIVELY], [6, 60], [600, LIVELY], [6, 60], [600, LIVELY])),
  });
  const whole = seconds(0, 1812);
  const alone = clean(recording, settings);
  const [first] = alone.marks.filter(({ rule }) => rule === 'briefSpike');

  it('lets a kept cough count, and removes what no rule saw', () => {
    const decisions = [decision('keep', first), decision('remove', seconds(900, 959))];
    const cleaning = clean(recording, settings, decisions);
    expect(cleaning.decided).toBe(decisions);
    expect(cleaning.undecided).toEqual(alone.marks);
    const { takes, withoutDecisions, channels } = cleaningAccount(recording, cleaning, whole, ADULT);
    expect(takes.map(({ rule, intervals: n }) => [rule, n])).toEqual([
      ['reviewed', 1],
      ['briefSpike', 1],
    ]);
    // 60 samples removed take the 61 s between their neighbours.
    expect(takes[0].hours * 3600).toBeCloseTo(61, 9);
    expect(withoutDecisions?.icpDoseMmHgHours).toBe(0);
    const dose = cleaningAccount(recording, cleaning, whole, ADULT).takes[1].without.icpDoseMmHgHours;
    expect(dose).toBeGreaterThan(0.1);
    expect(channels[0].keptHours * 3600).toBeCloseTo(1812 - 1 - 61 - takes[1].hours * 3600, 9);
  });

  it('is the same as before where nobody decided anything', () => {
    expect(clean(recording, settings, [])).toEqual(alone);
    expect(cleaningAccount(recording, alone, whole, ADULT).withoutDecisions).toBeNull();
  });

  it('knows nothing more where a person kept what was never there', () => {
    const kept = clean(recording, settings, [decision('keep', seconds(5000, 6000))]);
    expect(monitoredHours(cleanedSignal(recording, 'icp', kept), seconds(5000, 6000))).toBe(0);
  });
});
