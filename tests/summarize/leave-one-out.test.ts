import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Cleaning, cleanedSignal } from '../../src/clean/clean.js';
import type { Mark } from '../../src/clean/rule.js';
import { difference } from '../../src/recording/difference.js';
import type { Signal } from '../../src/recording/signal.js';
import { cleaningAccount } from '../../src/summarize/cleaning-account.js';
import { doseAboveMmHgHours, doseBelowMmHgHours } from '../../src/summarize/dose.js';
import { hoursAbove, hoursBelow } from '../../src/summarize/time.js';
import { holds, intervals, signals } from '../support/properties.js';
import { recordingOf } from '../support/recordings.js';
import { ADULT } from '../support/targets.js';

/** Marks over one sample or a few, so that most of what they reach lies between samples of the other channel. */
const places = fc.array(
  fc.record({
    channel: fc.constantFrom('icp' as const, 'map' as const),
    rule: fc.constantFrom('briefSpike', 'step', 'negative', 'flush'),
    kind: fc.constantFrom('removed', 'up', 'down'),
    from: fc.nat(39),
    more: fc.nat(3),
  }),
  { minLength: 1, maxLength: 10 },
);

const marksAt = (of: { readonly icp: Signal; readonly map: Signal }, found: Places): Mark[] =>
  found.map(({ channel, rule, kind, from, more }): Mark => {
    const { times } = of[channel];
    const at = (i: number): number => times[Math.min(i, times.length - 1)];
    const span = { channel, rule, start: at(from), end: at(from + more) };
    if (kind === 'removed') return { ...span, grade: 'removed' };
    return { ...span, grade: 'suspect', direction: kind === 'up' ? 'up' : 'down' };
  });

type Places = typeof places extends fc.Arbitrary<infer T> ? T : never;

// Signals of these properties are sampled at random and apart from each other: a mark of MAP reaches over many samples of
// ICP, and the other way round.
describe('the figures with a rule left out', () => {
  it('are those that all samples give anew, whatever the sampling of both channels', () => {
    let rules = 0;
    holds(
      fc.property(signals(30_000), signals(), places, intervals(), (icp, map, found, period) => {
        fc.pre(period.end > period.start);
        const recording = recordingOf({ icp, map });
        const cleaning: Cleaning = { marks: marksAt({ icp, map }, found), rulesOn: [], stoodAside: [] };
        for (const { rule, without } of cleaningAccount(recording, cleaning, period, ADULT).takes) {
          rules++;
          const [cleanIcp, cleanMap] = (['icp', 'map'] as const).map((channel) =>
            cleanedSignal(recording, channel, cleaning, 'headline', rule),
          );
          const cpp = difference(cleanMap, cleanIcp);
          const { icpThresholdMmHg, cppFloorMmHg } = ADULT;
          expect(without.icpHoursAboveThreshold).toBeCloseTo(
            hoursAbove(cleanIcp, period, icpThresholdMmHg),
            9,
          );
          expect(without.icpDoseMmHgHours).toBeCloseTo(
            doseAboveMmHgHours(cleanIcp, period, icpThresholdMmHg),
            9,
          );
          expect(without.cppHoursBelowFloor).toBeCloseTo(hoursBelow(cpp, period, cppFloorMmHg), 9);
          expect(without.cppDoseBelowFloorMmHgHours).toBeCloseTo(
            doseBelowMmHgHours(cpp, period, cppFloorMmHg),
            9,
          );
        }
      }),
    );
    expect(rules).toBeGreaterThan(100);
  });
});
