import { describe, expect, it } from 'vitest';
import { RULES } from '../../src/clean/rules.js';

// The defaults of the design, section 4: common practice, no source.
const DEFAULTS: Readonly<Record<string, object>> = {
  outsideRange: { icpLowestMmHg: -20, icpHighestMmHg: 150, abpLowestMmHg: 0, abpHighestMmHg: 300 },
  disconnected: {},
  zeroing: { nearZeroMmHg: 1, stepMmHg: 4, stepSeconds: 5, minSeconds: 5, maxSeconds: 600 },
  flatline: { minSeconds: 300, chance: 1e-6 },
  frozenWave: { minSeconds: 3, chance: 1e-6 },
  transient: { icpJumpMmHg: 10, abpJumpMmHg: 40, withinSeconds: 0.025, stillWithinSeconds: 1 },
  briefSpike: {
    riseMmHg: 8,
    maxSeconds: 60,
    sharpSeconds: 20,
    baselineSeconds: 120,
    coarseRiseMmHg: 5,
    rhythm: 0.5,
  },
  coughTrain: {
    riseMmHg: 8,
    spikes: 3,
    gapSeconds: 25,
    maxSeconds: 180,
    sameBaselineMmHg: 4,
    baselineSeconds: 60,
  },
  slowTurn: { riseMmHg: 12, minSeconds: 30, maxSeconds: 90, baselineSeconds: 120, rhythm: 0.5 },
  flush: { jumpMmHg: 40, withinSeconds: 5, plateauRangeMmHg: 10, backWithinSeconds: 180 },
  draw: { jumpMmHg: 40, withinSeconds: 5, pulsePressureMmHg: 10, backWithinSeconds: 180 },
  handling: { riseMmHg: 6, maxSeconds: 180, baselineSeconds: 180, rhythm: 0.5 },
  openDrain: { calmShare: 0.4, overChamberMmHg: 8, livelySeconds: 600 },
  step: { stepMmHg: 10, withinSeconds: 10, untilMinutes: 60, returnWithinMinutes: 720 },
  zeroShift: { shiftMmHg: 6, levelSeconds: 120, untilMinutes: 720 },
  negative: { minSeconds: 300, dipSeconds: 30 },
  damped: { share: 0.4, minSeconds: 600 },
  pulseLost: { share: 0.2, minSeconds: 60 },
  clipped: { minSeconds: 10, gapSeconds: 10 },
  clippedWave: {},
  drift: { driftMmHg: 4, togetherR: 0.5, referenceHours: 2, minSeconds: 1800 },
  transducerMoved: {
    stepMmHg: 10,
    mostMmHg: 50,
    withinSeconds: 10,
    pulsePressureShare: 0.2,
    untilMinutes: 60,
    returnWithinMinutes: 720,
  },
};

describe('the parameters of the rules', () => {
  it.each(RULES.map((rule) => [rule.name, rule] as const))(
    '%s has the defaults of the design',
    (name, rule) => {
      expect(rule.parameters.parse({})).toEqual(DEFAULTS[name]);
    },
  );
  it.each(RULES.map((rule) => [rule.name, rule] as const))(
    '%s refuses a word that it does not know',
    (_, rule) => {
      expect(rule.parameters.safeParse({ wobble: 3 }).success).toBe(false);
    },
  );
  it('are refused where they make no sense', () => {
    const named = (name: string) => RULES.find((rule) => rule.name === name)!.parameters;
    expect(named('briefSpike').safeParse({ maxSeconds: -1 }).success).toBe(false);
    expect(named('briefSpike').safeParse({ rhythm: 2 }).success).toBe(false);
    expect(named('step').safeParse({ stepMmHg: '10' }).success).toBe(false);
    expect(named('briefSpike').safeParse({ maxSeconds: 1e12 }).success).toBe(false);
    expect(named('zeroing').safeParse({ nearZeroMmHg: 200 }).success).toBe(false);
    const says = (name: string, own: object): string | undefined =>
      named(name).safeParse(own).error?.issues[0].message;
    expect(says('slowTurn', { minSeconds: 100 })).toBe(
      'expected minSeconds to be less than maxSeconds; the rule would never find anything',
    );
    expect(says('zeroing', { minSeconds: 900 })).toContain('expected minSeconds to be less than maxSeconds');
    expect(says('outsideRange', { icpLowestMmHg: 50, icpHighestMmHg: -50 })).toBe(
      'expected icpLowestMmHg to be less than icpHighestMmHg; every value would be removed',
    );
  });
  it('stand in the order in which removed seconds are counted', () => {
    expect(RULES.map(({ name }) => name)).toEqual(Object.keys(DEFAULTS));
  });
});
