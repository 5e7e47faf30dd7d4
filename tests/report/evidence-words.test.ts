import { expect, test } from 'vitest';
import type { Evidence } from '../../src/clean/rule.js';
import { ZoneClock } from '../../src/recording/zone.js';
import { evidenceWords } from '../../src/report/evidence-words.js';

const at = Date.UTC(2031, 1, 12, 1, 10);

test.each([
  [undefined, ''],
  [{}, ''],
  [{ mapRiseMmHg: 11.6 }, 'MAP rose by 12 mmHg'],
  [{ care: { kind: 'suction', at } }, 'suctioning logged 02:10'],
  [
    { care: { kind: 'drainOpen', at }, endedBySignal: true },
    'opening of the drain logged 02:10, closing not logged: the signal came alive again',
  ],
  [{ mapRiseMmHg: 6, care: { kind: 'turn', at } }, 'MAP rose by 6 mmHg, a turn logged 02:10'],
] satisfies [Evidence | undefined, string][])('%j in words', (evidence, words) => {
  expect(evidenceWords(evidence, new ZoneClock('Europe/Oslo'))).toBe(words);
});
