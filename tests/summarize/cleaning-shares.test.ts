import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Cleaning, cleanedSignal } from '../../src/clean/clean.js';
import { disconnected } from '../../src/clean/disconnected.js';
import type { Mark } from '../../src/clean/rule.js';
import { RULES } from '../../src/clean/rules.js';
import type { Interval } from '../../src/recording/interval.js';
import { type Recording, rawSignal } from '../../src/recording/recording.js';
import type { Signal } from '../../src/recording/signal.js';
import { cleaningAccount } from '../../src/summarize/cleaning-account.js';
import { monitoredHours } from '../../src/summarize/time.js';
import { holds, intervals, signals } from '../support/properties.js';
import { recordingOf } from '../support/recordings.js';
import { ADULT } from '../support/targets.js';

const CHANNELS = ['icp', 'icpDrain', 'map'] as const;
const ruleNames = RULES.map(({ name }) => name).filter((name) => name !== 'disconnected');

const marks: fc.Arbitrary<Mark[]> = fc.array(
  fc
    .record({
      channel: fc.constantFrom(...CHANNELS),
      rule: fc.constantFrom(...ruleNames),
      kind: fc.constantFrom('removed', 'up', 'down'),
      span: intervals(200_000),
    })
    .map(({ kind, span, ...mark }): Mark => {
      if (kind === 'removed') return { ...mark, ...span, grade: 'removed' };
      return { ...mark, ...span, grade: 'suspect', direction: kind === 'up' ? 'up' : 'down' };
    }),
  { maxLength: 8 },
);

/** Every other hole is one in which rows came with blanks. */
const blanksOf = ({ times, known }: Signal): Interval[] =>
  [...times.keys()]
    .filter((i) => !known[i] && i + 1 < times.length && i % 2 === 0)
    .map((i) => ({ start: times[i], end: times[i + 1] }));

const cases = fc
  .tuple(signals(), signals(), signals(), marks, intervals())
  .map(([icp, icpDrain, map, random, period]) => {
    const recording: Recording = recordingOf(
      { icp, icpDrain, map },
      { icp: blanksOf(icp), map: blanksOf(map) },
    );
    const blanks = disconnected.find(recording, {}).marks;
    const cleaning: Cleaning = { marks: [...random, ...blanks], rulesOn: [], stoodAside: [] };
    return { recording, cleaning, period };
  });

describe('the shares of cleaning, on random recordings with gaps, blanks and marks', () => {
  it('kept, what each rule took and no data add up to the period', () => {
    holds(
      fc.property(cases, ({ recording, cleaning, period }) => {
        fc.pre(period.end > period.start);
        const { takes, channels } = cleaningAccount(recording, cleaning, period, ADULT);
        expect(channels.map(({ channel }) => channel)).toEqual(CHANNELS);
        for (const { channel, keptShare, noDataShare } of channels) {
          const taken = takes.filter((take) => take.channel === channel && !take.staysIn);
          const sum = taken.reduce((all, { shareOfPeriod }) => all + shareOfPeriod, keptShare + noDataShare);
          expect(sum).toBeCloseTo(1, 9);
        }
      }),
    );
  });

  it('what was known as it came is kept or was taken by a rule', () => {
    holds(
      fc.property(cases, ({ recording, cleaning, period }) => {
        fc.pre(period.end > period.start);
        const { takes, channels } = cleaningAccount(recording, cleaning, period, ADULT);
        for (const { channel, keptHours } of channels) {
          const taken = takes.filter(
            (take) => take.channel === channel && !take.staysIn && take.rule !== 'disconnected',
          );
          const known = monitoredHours(rawSignal(recording, channel), period);
          expect(taken.reduce((all, { hours }) => all + hours, keptHours)).toBeCloseTo(known, 9);
        }
      }),
    );
  });

  it('what is kept is what the headline figures are computed on', () => {
    holds(
      fc.property(cases, ({ recording, cleaning, period }) => {
        fc.pre(period.end > period.start);
        for (const { channel, keptHours } of cleaningAccount(recording, cleaning, period, ADULT).channels) {
          expect(keptHours).toBeCloseTo(
            monitoredHours(cleanedSignal(recording, channel, cleaning), period),
            9,
          );
        }
      }),
    );
  });

  it('no share is negative, but for rounding', () => {
    holds(
      fc.property(cases, ({ recording, cleaning, period }) => {
        fc.pre(period.end > period.start);
        const { takes, channels } = cleaningAccount(recording, cleaning, period, ADULT);
        for (const { hours } of takes) expect(hours).toBeGreaterThanOrEqual(-1e-9);
        for (const { keptHours, noDataHours } of channels) {
          expect(Math.min(keptHours, noDataHours)).toBeGreaterThanOrEqual(-1e-9);
        }
      }),
    );
  });
});
