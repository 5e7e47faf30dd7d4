import { describe, expect, it } from 'vitest';
import { alarmsResult } from '../../../src/report/audit/alarms-result.js';
import { answerLines, auditSentence } from '../../../src/report/audit/audit-sentence.js';
import { maskAlarms } from '../../../src/report/audit/mask-alarms.js';
import { responseResult } from '../../../src/report/audit/response-result.js';
import { sidesResult } from '../../../src/report/audit/sides-result.js';
import type { UnitAuditInput } from '../../../src/summarize/alarms/audit-settings.js';
import { alarmAt, auditUnit, MONTH, patientOver, unitOf } from '../../support/audit-unit.js';

const sentenceOf = (input: UnitAuditInput, below: number | null = null): string => {
  const whole = alarmsResult(input, auditUnit(14, 6).account);
  const alarms = below === null ? whole : maskAlarms(whole, below);
  const told = { alarms, response: responseResult(input), sides: below === null ? sidesResult(input) : [] };
  return auditSentence(input.patients.length, told, true, below);
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
    expect(hidden).toMatch(/^Fewer than 20 patients, /);
  });

  it('tells both sides of a marked change, since together they would describe neither', () => {
    const { input } = auditUnit(14, 6);
    const atMs = (MONTH.start + MONTH.end) / 2;
    const settings = { ...input.settings, changed: { atMs, what: 'new protocol' } };
    const lines = answerLines(sentenceOf({ ...input, settings }));
    expect(lines).toHaveLength(BEGINNINGS.length);
    expect(lines[1]).toMatch(/^ICP: \d+ alarms, before \d+ \w+ 2031 .*; from then on .*\.$/);
    const sides = sidesResult({ ...input, settings });
    const whole = alarmsResult(input, null).channels;
    for (const [k, of] of whole.entries()) {
      expect(sides[0].channels[k].alarms + sides[1].channels[k].alarms).toBe(of.alarms);
      expect(sides[0].channels[k].episodes + sides[1].channels[k].episodes).toBe(of.episodes);
      expect(sides[0].channels[k].monitoredDays + sides[1].channels[k].monitoredDays).toBeCloseTo(
        of.monitoredDays,
        9,
      );
    }
  });

  it('does not say none of alarms of which nothing can be told', () => {
    const { start } = MONTH;
    const alarms = [alarmAt(start + 60_000, 'cannotTell')];
    const sentence = sentenceOf(unitOf([patientOver('1', { start, end: start + 3_600_000 }, { alarms })]));
    expect(sentence).toContain('ICP: 1 alarm, ');
    expect(sentence).toContain('what they were cannot be told');
    expect(sentence).not.toContain('0 %');
  });
});
