import { describe, expect, it } from 'vitest';
import { pipelineOf } from '../../src/pipeline/load-pipeline.js';
import { type GroupTask, patientSettings } from '../../src/pipeline/report-group.js';
import { storeKey } from '../../src/pipeline/store-key.js';
import { NO_LOGS } from '../support/no-logs.js';

const YAML = 'exports: exports\nreport: morning\n';
const settings = patientSettings(pipelineOf(YAML, 'unit.yaml'));
const care = [{ kind: 'turn' as const, start: 1, end: 2, value: null }];
const alarm = {
  ...{ start: 1, end: 2, acknowledged: null, side: 'upper' as const, priority: null, message: null },
  parameter: { text: 'ICP', channel: 'icp' as const, side: null },
  limit: null,
};

const TASK: GroupTask = {
  group: { id: '7', files: [{ path: '/a/7.csv', name: '7.csv' }] },
  settings,
  logs: NO_LOGS,
  logResults: [],
  period: null,
  hasPages: true,
};

const key = (more: Partial<GroupTask> = {}, sizes = [100], program = 'p'): string =>
  storeKey({ ...TASK, ...more }, sizes, program);

const account = {
  file: 'care.csv',
  kind: 'care' as const,
  rowsRead: 1,
  rowsUsed: 1,
  rowsUndecided: 0,
  rowsSetAside: 0,
  warnings: [],
};
const period = { start: 0, end: 1, word: 'night' as const, why: 'it is' };
const decision = { channel: 'icp' as const, start: 0, end: 1, decision: 'keep' as const, reviewer: 'Q' };
const target = { file: 'targets.csv', line: 2, patient: '7', from: null, until: null, cppBelowMmHg: 65 };
const files = (path: string, name: string) => ({ id: '7', files: [{ path, name }] });

describe('the key of a stored result', () => {
  it.each<[string, Partial<GroupTask>]>([
    ['whose it is', { group: { ...TASK.group, id: '07' } }],
    ['a name of a file, which stands in messages', { group: files('/a/7.csv', 'b/7.csv') }],
    ['a setting', { settings: { ...settings, title: 'Night' } }],
    ["the report, whose results are no other report's", { settings: { ...settings, report: 'perfusion' } }],
    ['a rule', { settings: { ...settings, clean: {} } }],
    [
      'a limit without end',
      { settings: { ...settings, clean: { step: { atMost: Number.POSITIVE_INFINITY } } } },
    ],
    ['the period', { period }],
    ['another reason for the same period', { period: { ...period, why: 'it was' } }],
    ['pages', { hasPages: false }],
    ['a log that says nothing of the patient', { logs: { ...TASK.logs, care: new Map() } }],
    ['a log that does', { logs: { ...TASK.logs, care: new Map([['7', care as never]]) } }],
    ['an alarm log that says nothing of the patient', { logs: { ...TASK.logs, alarms: new Map() } }],
    ['an alarm log that does', { logs: { ...TASK.logs, alarms: new Map([['7', [alarm]]]) } }],
    [
      'an acknowledgement',
      { logs: { ...TASK.logs, alarms: new Map([['7', [{ ...alarm, acknowledged: 2 }]]]) } },
    ],
    ['a decision', { logs: { ...TASK.logs, decisions: new Map([['7', [decision as never]]]) } }],
    ['a target', { logs: { ...TASK.logs, targets: new Map([['7', [target]]]) } }],
    ['what came of the logs, which stands on the page', { logResults: [account] }],
  ])('changes with %s', (_, more) => {
    expect(key(more)).not.toBe(key());
  });

  it('changes with the size of a file and with the program', () => {
    expect(new Set([key(), key({}, [101]), key({}, [100], 'q')]).size).toBe(3);
  });

  it('changes with each of the numbers that JSON has no word for', () => {
    const limits = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NaN, null];
    const keys = limits.map((atMost) => key({ settings: { ...settings, clean: { step: { atMost } } } }));
    expect(new Set(keys).size).toBe(limits.length);
  });

  it('does not change with where the files lie', () => {
    expect(key({ group: files('/b/7.csv', '7.csv') })).toBe(key());
  });

  it('does not change with what came of the logs where no page tells of it', () => {
    expect(key({ hasPages: false, logResults: [account] })).toBe(key({ hasPages: false }));
  });

  it('does not change with settings that no patient hangs on', () => {
    const other = pipelineOf(`${YAML}name: other\nexpected: ["9"]\n`, 'unit.yaml', { data: ['elsewhere'] });
    expect(key({ settings: patientSettings(other) })).toBe(key());
  });
});
