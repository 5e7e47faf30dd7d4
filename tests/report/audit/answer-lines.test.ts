import { describe, expect, it } from 'vitest';
import { alarmsResult } from '../../../src/report/audit/alarms-result.js';
import { answerLines, auditSentence } from '../../../src/report/audit/audit-sentence.js';
import { maskAlarms } from '../../../src/report/audit/mask-alarms.js';
import { responseResult } from '../../../src/report/audit/response-result.js';
import type { UnitAuditInput } from '../../../src/summarize/alarms/audit-settings.js';
import { auditUnit, MONTH, patientOver, unitOf } from '../../support/audit-unit.js';

const sentenceOf = (input: UnitAuditInput, below: number | null = null): string => {
  const alarms = alarmsResult(input, auditUnit(14, 6).account);
  return auditSentence(
    input.patients.length,
    below === null ? alarms : maskAlarms(alarms, below),
    responseResult(input),
    true,
  );
};

const BEGINNINGS = [/^14 patients, /, /^ICP: /, /^CPP: /, /^Of \d+ .* ICP /, /^Of \d+ .* CPP /];

describe('the answer of an audit in lines', () => {
  it('is one of how much, and one a channel of its alarms and of its episodes', () => {
    const sentence = sentenceOf(auditUnit(14, 6).input);
    const lines = answerLines(sentence);
    expect(lines).toHaveLength(BEGINNINGS.length);
    lines.forEach((line, i) => {
      expect(line).toMatch(BEGINNINGS[i]);
      expect(line.endsWith('.')).toBe(true);
    });
    expect(lines.join(' ')).toBe(sentence);
  });

  it('loses no word where counts are hidden, and of a unit in which nothing happened', () => {
    const nobody = unitOf([patientOver('1', { start: MONTH.start, end: MONTH.start + 3_600_000 })]);
    const quiet = sentenceOf(nobody);
    expect(answerLines(quiet)).toEqual([
      expect.stringMatching(/^1 patient, /),
      'No alarm of ICP or CPP could be judged.',
      'No episode was sustained.',
    ]);
    const hidden = sentenceOf(auditUnit(14, 6).input, 20);
    expect(answerLines(hidden).join(' ')).toBe(hidden);
  });
});
