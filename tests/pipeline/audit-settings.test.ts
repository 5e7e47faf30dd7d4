import { describe, expect, it } from 'vitest';
import { pipelineOf } from '../../src/pipeline/load-pipeline.js';
import type { Settings } from '../../src/pipeline/settings.js';

const good = 'exports: exports\ntimezone: Europe/Oslo\nreport: audit\n';

const settingsOf = (more: string): Settings => pipelineOf(`${good}${more}`, 'unit.yaml');

function refusal(more: string): string {
  try {
    settingsOf(more);
  } catch (error) {
    return (error as Error).message;
  }
  return 'it was not refused';
}

describe('an audit in a pipeline file', () => {
  it('has defaults for all of it: limits are the thresholds, late is when the rule is met', () => {
    const { audit, effective } = settingsOf('');
    expect(audit).toMatchObject({
      per: 'week',
      changed: null,
      present: null,
      lateSeconds: { icp: 300, cpp: 300 },
      limitsMmHg: { icp: 22, cpp: 60 },
      maskBelow: null,
      hasPseudonyms: true,
      treatments: null,
    });
    expect(audit?.tried.limitsMmHg).toEqual(Array.from({ length: 16 }, (_, i) => 15 + i));
    expect(audit?.tried.delaysSeconds).toEqual(Array.from({ length: 16 }, (_, i) => 60 * i));
    expect(effective.audit).toMatchObject({ per: 'week', patients: 'pseudonyms' });
  });

  it('follows the unit: its thresholds, its rule, its clock', () => {
    const { audit } = settingsOf(
      'preset: paediatric\nsegment: {icp: {minSeconds: 600}}\naudit: {changed: {date: "2031-05-05"}, whatIf: {limitsMmHg: {from: 18, to: 20, step: 0.5}, delayMinutes: {from: 1, to: 3}}}\n',
    );
    expect(audit?.limitsMmHg).toEqual({ icp: 20, cpp: 40 });
    expect(audit?.lateSeconds).toEqual({ icp: 600, cpp: 300 });
    // Midnight in Oslo, two hours ahead of UTC in May.
    expect(audit?.changed).toEqual({ atMs: Date.UTC(2031, 4, 4, 22), what: 'not named' });
    expect(audit?.tried.limitsMmHg).toEqual([18, 18.5, 19, 19.5, 20]);
    expect(audit?.tried.delaysSeconds).toEqual([60, 120, 180]);
  });

  it.each([
    [
      'audit: {changed: {date: next week}}',
      'unit.yaml, line 4: audit.changed.date: expected a date such as "2031-05-05", or a local time such as "2031-05-05 07:00", not "next week". Mend the value.',
    ],
    [
      'audit: {changed: {date: "2031-03-30 02:30"}}',
      'unit.yaml: audit.changed.date: "2031-03-30 02:30" does not exist in Europe/Oslo. Write it as "2031-05-05".',
    ],
    [
      'audit: {whatIf: {limitsMmHg: {from: 30, to: 15}}}',
      'unit.yaml, line 4: audit.whatIf.limitsMmHg: expected from to be no more than to',
    ],
    [
      'audit: {whatIf: {delayMinutes: {from: 0, to: 60}}}',
      'unit.yaml, line 4: audit.whatIf.delayMinutes: expected 31 values or fewer',
    ],
    [
      'audit: hello',
      'unit.yaml, line 4: audit: expected keys such as per, changed and present, as {per: month}',
    ],
    ['audit: {maskBelow: 1}', 'unit.yaml, line 4: audit.maskBelow: expected 2 or more'],
    ['audit: {patients: names}', 'unit.yaml, line 4: audit.patients: '],
    ['audit: {limit: 22}', 'unit.yaml, line 4: unknown key "audit.limit". Did you mean "limits"?'],
    [
      'alarms: {files: a.csv, shiftSeconds: 100000}',
      'unit.yaml, line 4: alarms.shiftSeconds: expected a shift of a day at most, in seconds',
    ],
  ])('%s is refused with a sentence', (more, says) => {
    expect(refusal(more)).toContain(says);
  });

  it('is refused beside another report, and is no shift of a table that has none', () => {
    expect(() => pipelineOf('exports: e\nreport: morning\naudit: {per: month}\n', 'unit.yaml')).toThrow(
      'unit.yaml: audit: says how alarms are audited, and the report is morning. Take it out, or say report: audit.',
    );
    expect(refusal('occupancy: {files: beds.csv, shiftSeconds: 5}')).toContain('shiftSeconds');
  });

  it('tries the present setting too, and values without the last bits of binary', () => {
    const { audit } = settingsOf(
      'audit: {present: {limitMmHg: 22.5, delaySeconds: 45}, whatIf: {limitsMmHg: {from: 10, to: 17, step: 0.7}, delayMinutes: {from: 0, to: 0.5, step: 0.1}}}\n',
    );
    expect(audit?.tried.limitsMmHg).toEqual([
      10, 10.7, 11.4, 12.1, 12.8, 13.5, 14.2, 14.9, 15.6, 16.3, 17, 22.5,
    ]);
    expect(audit?.tried.delaysSeconds).toEqual([0, 6, 12, 18, 24, 30, 45]);
  });

  it('keeps a shift of the clock of a log', () => {
    expect(settingsOf('alarms: {files: a.csv, shiftSeconds: -90}').logs.alarms).toEqual({
      files: ['a.csv'],
      shiftSeconds: -90,
    });
  });
});
