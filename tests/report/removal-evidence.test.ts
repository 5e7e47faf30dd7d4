import { h } from 'preact';
import { renderToStaticMarkup } from 'preact-render-to-string';
import { describe, expect, it } from 'vitest';
import type { Evidence } from '../../src/clean/rule.js';
import { ZoneClock } from '../../src/recording/zone.js';
import { removalResult } from '../../src/report/cleaning-result.js';
import { RemovalList } from '../../src/report/morning/removal-list.js';
import type { RecordingResult } from '../../src/report/results-schema.js';
import { ADULT } from '../support/targets.js';

const at = Date.UTC(2031, 1, 12, 1, 10);
const TURN: Evidence = { care: { kind: 'turn', at } };

const resultOf = (rules: string[], evidence: Evidence[]) =>
  removalResult(
    {
      start: at,
      end: at + 60_000,
      rules,
      decidedBy: [],
      evidence,
      baselineMmHg: 12,
      highestMmHg: 30,
      lowestMmHg: 12,
      riseMmHg: 18,
      areaMmHgMinutes: 18,
    },
    new ZoneClock('Europe/Oslo'),
  );

/** What stands behind the area. */
function speaksFor(rules: string[], evidence: Evidence[]): string | undefined {
  const result = {
    largestRemovals: [resultOf(rules, evidence)],
    largeExcursions: [],
    decimals: { icp: 1 },
  } as unknown as RecordingResult;
  const props = { result, targets: ADULT, isLong: false, pictures: new Map() };
  return /18\.0 mmHg·min; (.*?)<\/div>/.exec(renderToStaticMarkup(h(RemovalList, props)))?.[1];
}

describe('what else speaks for a removal', () => {
  it('is not the entry of the log on which the rule itself rests', () => {
    expect(speaksFor(['handling'], [TURN])).toBe('rests on a turn logged 02:10; nothing else speaks for it');
    expect(speaksFor(['openDrain'], [{ care: { kind: 'drainOpen', at } }])).toBe(
      'rests on opening of the drain logged 02:10; nothing else speaks for it',
    );
    expect(resultOf(['handling'], [TURN])).toMatchObject({ evidence: '', logged: 'a turn logged 02:10' });
  });

  it('is MAP beside the log', () => {
    expect(speaksFor(['handling'], [{ ...TURN, mapRiseMmHg: 11.7 }])).toBe(
      'rests on a turn logged 02:10; MAP rose by 12 mmHg',
    );
  });

  it('is the entry of the log where a rule that does not need one took it too', () => {
    expect(speaksFor(['briefSpike', 'handling'], [TURN])).toBe('a turn logged 02:10');
    expect(speaksFor(['briefSpike'], [])).toBe('nothing else speaks for it');
  });
});
