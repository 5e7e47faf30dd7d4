import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it, test } from 'vitest';
import type { Results } from '../../src/report/results-schema.js';
import { type CliOutcome, folderWith, nightCsv } from '../support/cistern.js';
import { commandLine } from '../support/command-line.js';

const PIPELINE = 'timezone: Europe/Oslo\nreport: morning\nexports: exports\n';
const quiet = nightCsv(() => 12);
const HEADER = 'Patient,Bed,Onset,Ended,Acknowledged,Parameter,Direction,Limit (mmHg),Priority\n';

/** Alarms of two patients and a bed, one of an unknown patient, and two rows that cannot be used. */
const ALARMS = `${HEADER}007,,2031-02-11 22:00:10,2031-02-11 22:02:05,2031-02-11 22:00:40,ICP,high,22,high
007,,2031-02-11 18:29,2031-02-11 18:29:30,,ICP,high,22,high
007,,2031-02-11 18:25,2031-02-11 18:31,,CPP,low,60,medium
007,,2031-02-12 07:29,,,Probe disconnected,,,low
007,,2031-02-12 07:31,,,Probe disconnected,,,low
9,,2031-02-11 23:00,,,ICP,high,22,high
,4,2031-02-12 01:00,2031-02-12 01:01,,ABP mean,low,65,medium
,5,2031-02-12 02:00,,,ICP,high,22,high
007,,soon,,,ICP,high,22,high
`;
const BEDS = 'Patient,Bed,From,To\n12,4,2031-02-11 10:00,\n';
const CARE = `Patient,Start,End,Event,Treatment
007,2031-02-11 22:00,,Turned and suctioned,
007,2031-02-11 22:05,2031-02-11 22:15,,Head of bed raised to 30 degrees
007,2031-02-11 18:00,,mouth care,
007,2031-02-12 03:00,,EVD opened,
007,2031-02-12 03:30,,EVD closed,
007,2031-02-12 06:30,,EVD opened,
12,2031-02-11 23:00,,"=1+1, a note that goes on for longer than a line can hold",
`;

interface Ran extends CliOutcome {
  readonly out: string;
  readonly results: Results;
}

/** Runs the command over two patients and what else there is; without pages where nothing else is said. */
async function run(keys: string, files: Record<string, string>, pages = ['--no-pages']): Promise<Ran> {
  const exports = { 'exports/007.csv': quiet, 'exports/12.csv': quiet };
  const folder = folderWith({ 'unit.yaml': PIPELINE + keys, ...exports, ...files });
  const out = join(folder, 'report');
  const outcome = await commandLine(['run', 'unit.yaml', '--out', out, '--threads', '1', ...pages], folder);
  const results =
    outcome.status === 0 ? JSON.parse(readFileSync(join(out, 'results.json'), 'utf8')) : ({} as Results);
  return { ...outcome, out, results };
}

const linesOf = (out: string, table: string): string[] =>
  readFileSync(join(out, `tables/${table}.csv`), 'utf8')
    .split('\r\n')
    .slice(0, -1);

describe('a run with an alarm log', () => {
  let ran: Ran;
  beforeAll(async () => {
    const keys = 'care: care.csv\nalarms: alarms.csv\noccupancy: beds.csv\n';
    ran = await run(keys, { 'care.csv': CARE, 'alarms.csv': ALARMS, 'beds.csv': BEDS }, []);
  });

  it('accounts for its rows', () => {
    expect(ran.results.logs.map(({ kind }) => kind)).toEqual(['care', 'alarms', 'occupancy']);
    expect(ran.results.logs[1]).toEqual({
      file: 'alarms.csv',
      kind: 'alarms',
      rowsRead: 9,
      rowsUsed: 7,
      rowsUndecided: 0,
      rowsSetAside: 2,
      warnings: ['It names 1 patient of whom there is no export: "9" (1 row).'],
    });
    expect(linesOf(ran.out, 'setaside').slice(1)).toEqual([
      ',alarms.csv,9,1,"bed ""5"" is not in the table of beds",",5,2031-02-12 02:00,,,ICP,high,22,high"',
      ',alarms.csv,10,1,"column ""Onset"": ""soon"" is no time that can be read","007,,soon,,,ICP,high,22,high"',
    ]);
    expect(ran.stderr).toBe(
      'cistern: alarms.csv: It names 1 patient of whom there is no export: "9" (1 row).\n',
    );
    expect(ran.results.settings).toMatchObject({ alarms: { files: ['alarms.csv'] } });
    const { inputs } = JSON.parse(readFileSync(join(ran.out, 'run.json'), 'utf8'));
    expect(inputs.map(({ file }: { file: string }) => file)).toContain('alarms.csv');
  });

  it('says so on the page of the unit', () => {
    expect(readFileSync(join(ran.out, 'index.html'), 'utf8')).toContain(
      'Alarm log alarms.csv: rows read 9, used 7, set aside 2 (each with its reason in tables/setaside.csv).',
    );
  });

  it('gives each patient the alarms that are theirs, by name or by bed, within 30 min of the period', () => {
    const [first, second] = ran.results.recordings;
    expect(first.bedside.alarms).toEqual([
      {
        start: '2031-02-11T18:25:00+01:00',
        end: '2031-02-11T18:31:00+01:00',
        acknowledged: null,
        text: 'CPP below 60 mmHg',
      },
      {
        start: '2031-02-11T22:00:10+01:00',
        end: '2031-02-11T22:02:05+01:00',
        acknowledged: '2031-02-11T22:00:40+01:00',
        text: 'ICP above 22 mmHg',
      },
      { start: '2031-02-12T07:29:00+01:00', end: null, acknowledged: null, text: 'Probe disconnected' },
    ]);
    expect(second.bedside.alarms?.map(({ text }) => text)).toEqual(['MAP below 65 mmHg']);
  });

  it('gives each patient the entries of the care log, and when the drain was open', () => {
    const [first, second] = ran.results.recordings;
    expect(first.bedside.entries?.map(({ text, isTreatment }) => [text, isTreatment])).toEqual([
      ['Turned and suctioned', false],
      ['Head of bed raised to 30 degrees', true],
      ['EVD opened', false],
      ['EVD closed', false],
      ['EVD opened', false],
    ]);
    expect(first.bedside.entries?.[1].end).toBe('2031-02-11T22:15:00+01:00');
    expect(first.bedside.drainOpen).toEqual([
      { start: '2031-02-12T03:00:00+01:00', end: '2031-02-12T03:30:00+01:00' },
      { start: '2031-02-12T06:30:00+01:00', end: null },
    ]);
    expect(second.bedside.entries?.map(({ text }) => text)).toEqual([
      '=1+1, a note that goes on for longer tha...',
    ]);
  });

  it('writes the same as a tidy table, in which no cell is a formula', () => {
    expect(linesOf(ran.out, 'bedside')).toEqual([
      'patient,kind,start,end,acknowledged,text',
      '007,alarm,2031-02-11T18:25:00+01:00,2031-02-11T18:31:00+01:00,,CPP below 60 mmHg',
      '007,entry,2031-02-11T22:00:00+01:00,,,Turned and suctioned',
      '007,alarm,2031-02-11T22:00:10+01:00,2031-02-11T22:02:05+01:00,2031-02-11T22:00:40+01:00,ICP above 22 mmHg',
      '007,treatment,2031-02-11T22:05:00+01:00,2031-02-11T22:15:00+01:00,,Head of bed raised to 30 degrees',
      '007,entry,2031-02-12T03:00:00+01:00,,,EVD opened',
      '007,drainOpen,2031-02-12T03:00:00+01:00,2031-02-12T03:30:00+01:00,,',
      '007,entry,2031-02-12T03:30:00+01:00,,,EVD closed',
      '007,entry,2031-02-12T06:30:00+01:00,,,EVD opened',
      '007,drainOpen,2031-02-12T06:30:00+01:00,,,',
      '007,alarm,2031-02-12T07:29:00+01:00,,,Probe disconnected',
      '12,entry,2031-02-11T23:00:00+01:00,,,"\'=1+1, a note that goes on for longer tha..."',
      '12,alarm,2031-02-12T01:00:00+01:00,2031-02-12T01:01:00+01:00,,MAP below 65 mmHg',
    ]);
    expect(linesOf(ran.out, 'dictionary').filter((line) => line.startsWith('bedside,'))).toHaveLength(6);
  });
});

describe('alarm logs', () => {
  it('leave no word where none is given', async () => {
    const { results, out } = await run('', {});
    expect(results.recordings[0].bedside).toEqual({ alarms: null, entries: null, drainOpen: [] });
    expect(linesOf(out, 'bedside')).toEqual(['patient,kind,start,end,acknowledged,text']);
  });

  it('that say nothing of a patient are not the same as none', async () => {
    const { results } = await run('alarms: alarms.csv\n', {
      'alarms.csv': ALARMS.replaceAll(/^,.*\n/gm, ''),
    });
    expect(results.recordings[1].bedside).toEqual({ alarms: [], entries: null, drainOpen: [] });
  });

  it('are given as folders and lists; rows that stand in two files count once', async () => {
    const files = { 'logs/a.csv': ALARMS, 'logs/b.csv': ALARMS.replace('\n9,,', '\n12,,'), 'beds.csv': BEDS };
    const { results } = await run('alarms: [logs]\noccupancy: beds.csv\n', files);
    expect(results.logs.map(({ file, rowsUsed, rowsSetAside }) => [file, rowsUsed, rowsSetAside])).toEqual([
      ['a.csv', 7, 2],
      ['b.csv', 1, 8],
      ['beds.csv', 1, 0],
    ]);
    expect(results.recordings.map(({ bedside }) => bedside.alarms?.length)).toEqual([3, 2]);
  });

  it('may have columns, a unit and words that the pipeline file names, and beds that are patients', async () => {
    const columns =
      '{patient: Bed, onset: {header: When, order: dayFirst}, limit: {unit: kPa}, priority: {words: {"3": high}}}';
    const log = 'Bed;When;Alarm;Limit;Priority\n007;11/02/2031 20:00;ICP high;3;3\n';
    const { results } = await run(`alarms: {files: a.csv, columns: ${columns}}\n`, { 'a.csv': log });
    expect(results.recordings[0].bedside.alarms).toMatchObject([{ text: 'ICP above 22.5 mmHg' }]);
  });

  it('are no exports where they lie among them', async () => {
    const { results, status } = await run('alarms: exports/alarms.csv\noccupancy: beds.csv\n', {
      'exports/alarms.csv': ALARMS,
      'beds.csv': BEDS,
    });
    expect([status, results.failed, results.recordings.length]).toEqual([0, [], 2]);
  });

  it('of another year are told of', async () => {
    const log = ALARMS.replaceAll('2031', '2013').replace(',4,', '12,,');
    const { results } = await run('alarms: alarms.csv\n', { 'alarms.csv': log });
    expect(results.logs[0].warnings.at(-1)).toBe(
      'Of 2 patients none of the alarms falls into the time of the recording: "007" and "12". Look at the year and the time zone of the log.',
    );
  });

  it('of which no row is of any patient are told of', async () => {
    const log = `${HEADER}7,,2031-02-11 22:00,,,ICP,high,22,high\n8,,2031-02-11 22:00,,,ICP,high,22,high\n`;
    const { results, stderr } = await run('alarms: alarms.csv\n', { 'alarms.csv': log });
    const told =
      'It names 2 patients of whom there is no export: "7" (1 row; is it "007" with its zeros lost?) and "8" (1 row).';
    expect(results.logs[0].warnings).toEqual([told]);
    expect(stderr).toBe(`cistern: alarms.csv: ${told}\n`);
  });

  it('stand in what check prints', async () => {
    const folder = folderWith({ 'unit.yaml': `${PIPELINE}alarms: [a.csv, b.csv]\ncare: c.csv\n` });
    const { stdout } = await commandLine(['check', 'unit.yaml'], folder);
    expect(stdout).toContain('Beside them care: c.csv; alarms: a.csv, b.csv.\n');
  });
});

describe('an alarm log that cannot be used is refused with nothing written', () => {
  test.each([
    [
      'that is not there',
      'alarms: nowhere.csv',
      {},
      'there is no file or folder nowhere.csv. Look at alarms in the pipeline file.',
    ],
    [
      'that is a care log',
      'alarms: care.csv',
      { 'care.csv': CARE },
      'care.csv: the file reads like a care log, and alarms names it as an alarm log. Look at alarms in the pipeline file; if it is right, name the columns there, as alarms: {files: ..., columns: {...}}.',
    ],
    [
      'that names beds alone',
      'alarms: a.csv',
      { 'a.csv': 'Bed,Onset,Alarm\n4,2031-02-11 20:00,ICP high\n' },
      'a.csv: the log names beds and no patients, and no table of beds is given. Give the table of who lay in which bed as occupancy in the pipeline file; where the exports are named by bed, say alarms: {files: ..., columns: {patient: the header of the beds}}.',
    ],
    [
      'whose limits have no unit',
      'alarms: a.csv',
      { 'a.csv': 'Patient,Onset,Alarm,Limit\n007,2031-02-11 20:00,ICP high,22\n' },
      'a.csv, line 2, column "Limit": its unit is not given. Write it into the header, as in "Limit (mmHg)", or into the pipeline file, as alarms: {files: ..., columns: {limit: {unit: mmHg}}}.',
    ],
    [
      'whose columns are called otherwise',
      'alarms: {files: a.csv, columns: {start: When}}',
      {},
      'unit.yaml, line 4: unknown key "alarms.columns.start". Valid here: patient, bed, ward, onset, parameter, side, limit, limitUnit, priority, acknowledged, ended, message.',
    ],
    [
      'of no path',
      'alarms: 7',
      {},
      'unit.yaml, line 4: alarms: expected a file, a folder or a pattern, a list of them, or {files: ..., columns: {patient: ...}}, not 7. Mend the value.',
    ],
    [
      'whose words mean nothing that is known',
      'alarms: {files: a.csv, columns: {priority: {words: {"3": top}}}}',
      { 'a.csv': 'Patient,Onset,Alarm,Priority\n007,2031-02-11 20:00,ICP high,3\n' },
      'a.csv, line 1, column "Priority": "top" is none of high, medium, low, which alarms: {files: ..., columns: {priority: {words: ...}}} may name. Correct the pipeline file.',
    ],
  ] as const)('%s', async (_, key, files, sentence) => {
    const { status, stderr, stdout } = await run(`${key}\n`, files);
    expect({ status, stderr, stdout }).toEqual({ status: 2, stderr: `cistern: ${sentence}\n`, stdout: '' });
  });
});
