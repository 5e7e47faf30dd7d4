import { expect, it } from 'vitest';
import { difference } from '../../../src/recording/difference.js';
import { ZoneClock } from '../../../src/recording/zone.js';
import { perfusionResult } from '../../../src/report/perfusion-result.js';
import type { OptimalFigures } from '../../../src/summarize/perfusion/optimal-figures.js';
import { summarizePerfusion } from '../../../src/summarize/perfusion/summarize-perfusion.js';
import { perfused } from '../../support/perfusion.js';
import { recordingOf } from '../../support/recordings.js';
import { regulated } from '../../support/regulated.js';
import { ADULT } from '../../support/targets.js';

const { icp, map } = regulated(3, 8, { lower: 62, upper: 95, from: 48, to: 105, sweepHours: 4 });
const period = { start: icp.times[0], end: icp.times[icp.times.length - 1] };
const summary = summarizePerfusion(
  recordingOf({ icp, map }),
  { icp, map, cpp: difference(map, icp) },
  { period, hours: [], targets: ADULT, hasOptimal: true },
);
const resultOf = (yields: Partial<OptimalFigures>, lag: object = {}) =>
  perfusionResult(
    { ...summary, optimal: { ...(summary.optimal as OptimalFigures), ...yields } },
    { ...perfused().clockLag, ...lag },
    period,
    new ZoneClock('Europe/Oslo'),
  );
const optimalMinutes = (result: ReturnType<typeof resultOf>): number =>
  (result.minutes?.optimalCppMmHg ?? []).filter((mmHg) => mmHg !== null).length;

it('optimal CPP that was found more often than by chance stands with its figures', () => {
  const result = resultOf({});
  expect(result.optimal).toMatchObject({ whyWithheld: null });
  expect(result.optimal?.meanOptimalMmHg).toBeGreaterThan(60);
  expect(optimalMinutes(result)).toBe(result.optimal?.minutesWithCurve);
});

it('optimal CPP that chance finds as often has no figures, and both yields', () => {
  const result = resultOf({ yieldShare: 0.07, shuffledYieldShare: 0.16 });
  const why =
    'A curve was found no more often than chance finds one (7 % against 16 %): nothing can be read from it.';
  expect(result.optimal).toMatchObject({
    ...{ meanOptimalMmHg: null, meanDifferenceMmHg: null, hoursBelow: null },
    ...{ meanLowerLimitMmHg: null, meanUpperLimitMmHg: null, meanOptimalMmHgReason: why },
    ...{ yieldShare: 0.07, shuffledYieldShare: 0.16, whyWithheld: why },
    sentence: `Optimal CPP (investigational) is not shown. ${why}`,
  });
  expect(optimalMinutes(result)).toBe(0);
});

it('no figure rests on a PRx of clocks that may be apart', () => {
  const result = resultOf({}, { isApart: true, lagSeconds: 60 });
  expect(result.prxDoubt).toMatch(/apart by 1 min\.$/);
  expect(result.optimal).toMatchObject({ meanOptimalMmHg: null, yieldShare: null, shuffledYieldShare: null });
  expect(result.curve).toEqual({ bins: [], fit: null, whyNoFit: result.prxDoubt });
  expect(optimalMinutes(result)).toBe(0);
});
