import { describe, expect, it, vi } from 'vitest';
import { composeStudy } from '../../src/pipeline/compose-study.js';
import { pipelineOf } from '../../src/pipeline/load-pipeline.js';
import type { LogAccount } from '../../src/pipeline/log-file.js';
import type { Logs } from '../../src/pipeline/read-logs.js';
import type { KeptPart } from '../../src/pipeline/report-group.js';
import type { Settings } from '../../src/pipeline/settings.js';
import { inventedStudy } from '../support/invented-study.js';
import { studyResultSample } from '../support/study-result-sample.js';

// What is made of a cohort is tried elsewhere; here it is who is in it.
vi.mock('../../src/report/study/study-result.js', () => ({ studyResult: () => studyResultSample() }));

const settingsOf = (study = '{}', more = ''): Settings =>
  pipelineOf(`exports: e\ncohort: cohort.csv\nreport: study\nstudy: ${study}\n${more}`, 'unit.yaml');

/** Twelve of an invented unit, of whom 010 has no exports. */
const { members } = inventedStudy({ patients: 12 });
const NAMES = new Map(members.map(({ id }) => [id, `zebra-${id}`]));
const nameOf = (id: string): string => NAMES.get(id) ?? id;

const part = (id: string, more: Partial<KeptPart> = {}): KeptPart => ({
  id,
  problem: null,
  isPassing: false,
  rowsRead: 10,
  setAside: [],
  isStray: false,
  files: [],
  extent: null,
  channels: [],
  period: null,
  report: null,
  audit: null,
  study: null,
  ...more,
});

const logsWith = (ids: readonly string[]): Logs =>
  ({
    cohort: new Map(
      ids.map((id, i) => {
        const row = members[i % members.length].row;
        if (!row) throw new Error('a row is needed');
        return [id, { ...row, id, line: i + 2 }];
      }),
    ),
  }) as unknown as Logs;

const account = (kind: LogAccount['kind'], rows: number): LogAccount =>
  ({
    kind,
    file: `${kind}.csv`,
    setAside: [{ file: 'f.csv', line: 3, rows, kind: 'conflict', reason: 'twice' }],
  }) as unknown as LogAccount;

const PARTS = [
  ...members
    .filter(({ study }) => study)
    .map(({ id, study }) => part(nameOf(id), { study: study && { ...study, id: nameOf(id) } })),
  part('broken-8', { problem: 'this is no export' }),
  part('visitor-3', { study: members[0].study }),
  part('export.csv, lines of nobody', { isStray: true, problem: 'no patient is named' }),
];
const LOGS = logsWith([...members.map(({ id }) => nameOf(id)), 'broken-8', 'absent-1']);

const composed = (settings = settingsOf()) => {
  const found = composeStudy(PARTS, LOGS, [account('cohort', 2), account('care', 5)], settings);
  if (!found) throw new Error('nothing was composed');
  return found;
};

const refusal = (parts: readonly KeptPart[], logs: Logs): string => {
  try {
    composeStudy(parts, logs, [account('cohort', 0)], settingsOf());
  } catch (error) {
    return `${(error as Error).name}: ${(error as Error).message}`;
  }
  return 'it was not refused';
};

describe('composeStudy', () => {
  it('is nothing for another report', () => {
    const morning = pipelineOf('exports: e\nreport: morning\n', 'unit.yaml');
    expect(composeStudy(PARTS, LOGS, [], morning)).toBeNull();
  });

  it('has everybody of table and exports once, and lines of nobody not', () => {
    const { cohort, order } = composed(settingsOf('{patients: numbers}'));
    const of = (id: string) => cohort.memberOf.get(id);
    expect(cohort.members).toHaveLength(12 + 3);
    expect(of('absent-1')).toMatchObject({ exports: 'none', study: null, row: { id: 'absent-1' } });
    expect(of('zebra-010')).toMatchObject({ exports: 'none', study: null });
    expect(of('broken-8')).toMatchObject({ exports: 'failed', study: null, row: { id: 'broken-8' } });
    expect(of('visitor-3')).toMatchObject({ exports: 'read', row: null });
    expect(of('visitor-3')?.study).not.toBeNull();
    expect(cohort.members.map(({ id }) => id).filter((id) => /nobody/.test(id))).toEqual([]);
    // In the order of pages, and of whom there are features.
    expect(cohort.members.map(({ id }) => id)).toEqual([...cohort.members.map(({ id }) => id)].sort());
    expect(order).toEqual(cohort.members.filter(({ study }) => study).map(({ id }) => id));
    expect(cohort.flow.stoppedAt.get('broken-8')).toBe('notRead');
    expect(cohort.flow.exportsWithoutRow).toEqual(['visitor-3']);
  });

  it('has who failed for want of ICP as somebody without ICP, and not as one who could not be read', () => {
    const [parts, logs] = [
      [...PARTS, part('line-4', { problem: 'no ICP', lacksIcp: true })],
      logsWith(['line-4']),
    ];
    const cohort = composeStudy(parts, logs, [], settingsOf('{patients: numbers}'))?.cohort;
    expect(cohort?.memberOf.get('line-4')).toMatchObject({ exports: 'read', study: null });
    expect(cohort?.flow.stoppedAt.get('line-4')).toBe('noIcp');
  });

  it('counts the rows of the table that could not be used, and of no other log', () => {
    expect(composed().cohort.rowsSetAside).toBe(2);
  });

  it('puts pseudonyms in everywhere, in an order that tells nothing', () => {
    const { cohort, key, nameOf: pseudonymOf, order } = composed(settingsOf('{}', 'expected: [late-5]\n'));
    const told = JSON.stringify({
      members: cohort.members,
      patients: cohort.patients,
      flow: { ...cohort.flow, stoppedAt: [...cohort.flow.stoppedAt] },
      timings: [...cohort.timings],
      memberOf: [...cohort.memberOf],
      coded: cohort.groups.coded,
    });
    expect(/zebra|broken|visitor|absent|nobody|late-5/.exec(told)?.[0]).toBeUndefined();
    expect(told.match(/"P\d\d"/g)?.length).toBeGreaterThan(50);
    // Whoever a page or a table may name has one: also who is expected, and lines of nobody where they failed.
    const ids = [...PARTS.map(({ id }) => id), 'absent-1', 'zebra-010', 'late-5'];
    expect(new Set(key?.map(([, id]) => id)).size).toBe(key?.length);
    expect(new Set(key?.map(([pseudonym]) => pseudonym)).size).toBe(key?.length);
    for (const id of ids) expect(key?.map(([, patient]) => patient)).toContain(id);
    for (const [pseudonym, id] of key ?? []) expect(pseudonymOf(id)).toBe(pseudonym);
    expect(cohort.members.map(({ id }) => id)).toEqual([...cohort.members.map(({ id }) => id)].sort());
    const real = new Map(key?.map(([pseudonym, id]) => [pseudonym, id]));
    const inOrder = order.map((pseudonym) => String(real.get(pseudonym)));
    expect(inOrder).not.toEqual([...inOrder].sort());
    // Features go with the right patient.
    for (const { id, study } of cohort.members) {
      const own = members.find((one) => nameOf(one.id) === real.get(id));
      if (own?.study) expect(study?.primaryIcpHours).toBe(own.study.primaryIcpHours);
      for (const row of study?.rows ?? []) expect(row.patient).toBe(id);
    }
    // The same from the parts in another order.
    const again = composeStudy([...PARTS].reverse(), LOGS, [], settingsOf('{}', 'expected: [late-5]\n'));
    expect(again?.key).toEqual(key);
    expect(again?.order).toEqual(order);
  });

  it('has no key where patients stand under their numbers', () => {
    const { key, nameOf: same } = composed(settingsOf('{patients: numbers}'));
    expect([key, same('zebra-001')]).toEqual([null, 'zebra-001']);
  });
});

describe('a study is refused', () => {
  it('where a spreadsheet dropped zeros, of all patients or of one', () => {
    expect(refusal([part('007'), part('008')], logsWith(['7', '8']))).toBe(
      'Problem: cohort.csv, line 2: the row is of patient "7", and the exports are of "007". Did a spreadsheet drop the zeros in front? A study would count the patient as one without exports: write ids as the exports have them.',
    );
    expect(refusal([part('101'), part('008')], logsWith(['101', '8']))).toContain(
      'cohort.csv, line 3: the row is of patient "8", and the exports are of "008".',
    );
    // Where the table has both, they are two patients.
    expect(refusal([part('101'), part('008')], logsWith(['101', '008', '8']))).toBe('it was not refused');
    // Lines of nobody are no exports of anybody.
    expect(refusal([part('101'), part('008', { isStray: true })], logsWith(['101', '8']))).toBe(
      'it was not refused',
    );
  });

  it('where an id is spelt in another way', () => {
    const parts = [part('heron-1'), part('h\u00e9ron 2'), part('heron-3')];
    expect(refusal(parts, logsWith(['heron-3', 'Heron_1']))).toBe(
      'Problem: cohort.csv, line 3: the row is of patient "Heron_1", and the exports are of "heron-1". Capitals, spaces and hyphens count. A study would count the patient as one without exports: write ids as the exports have them.',
    );
    // Where exports have both, they are two patients; other letters and digits are another patient.
    expect(refusal([...parts, part('Heron-1')], logsWith(['heron-1', 'Heron-1', 'heron-11', 'heron2']))).toBe(
      'it was not refused',
    );
  });

  it('where an id looks the same and is not', () => {
    expect(refusal([part('h\u00e9ron 2'), part('a')], logsWith(['he\u0301ron 2', 'a']))).toBe(
      'Problem: cohort.csv, line 2: the row is of patient "he\u0301ron 2", and the exports are of "h\u00e9ron 2", which looks the same and is written with other characters: a letter and its accent may be one character or two. A study would count the patient as one without exports: copy the id from the name of the export, or from inside it, into the table.',
    );
  });

  it('where nobody of the table has exports', () => {
    const beds = ['bed-2', 'bed-10', 'bed-1', 'bed-3', 'bed-4'].map((id) => part(id));
    expect(refusal(beds, logsWith(['31', '4', '12', '100', '9']))).toBe(
      'Problem: none of the 5 patients of the cohort table has exports: the table names "4", "9", "12" and 2 more, and the exports are of "bed-1", "bed-10", "bed-2" and 2 more. Write ids in the table as the exports have them, or say under patient in the pipeline file where the exports\' ids stand, as patient: {fileName: \'^(\\d+)\'}.',
    );
    expect(refusal([part('a')], logsWith(['b']))).toContain(
      'none of the 1 patient of the cohort table has exports: the table names "b", and the exports are of "a".',
    );
    // Exports that could not be read are there.
    expect(refusal([part('a', { problem: 'broken' })], logsWith(['a']))).toBe('it was not refused');
  });

  it('where the table holds nobody', () => {
    expect(refusal([part('a')], logsWith([]))).toBe(
      'Problem: no row of the cohort table cohort.csv could be used, so that the study would have no patient. cistern inspect says of the table what is wrong with it.',
    );
  });
});
