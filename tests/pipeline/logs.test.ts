import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it, test } from 'vitest';
import type { Results } from '../../src/report/results-schema.js';
import { type CliOutcome, cistern, folderWith, nightCsv } from '../support/cistern.js';
import { commandLine } from '../support/command-line.js';

const PIPELINE = 'timezone: Europe/Oslo\nreport: morning\nexports: exports\n';
const quiet = nightCsv(() => 12);

/** A care log with entries of three patients, a bed, and two rows that cannot be used. */
const CARE = `Patient,Bed,Start,End,Event
007,,2031-02-11 22:00,,Turned and suctioned
007,,2031-02-11 21:00,2031-02-11 21:05,Turned
9,,2031-02-11 23:00,,HOB 30
,4,2031-02-12 01:00,,ICP zeroed
,5,2031-02-12 02:00,,turned
007,,soon,,turned
`;
const BEDS = 'Patient,Bed,From,To\n12,4,2031-02-11 10:00,\n';

interface Ran extends CliOutcome {
  readonly out: string;
  readonly folder: string;
  readonly results: Results;
}

/** Runs the command over two patients and what else there is. */
async function run(keys: string, files: Record<string, string>, args: readonly string[] = []): Promise<Ran> {
  const exports = { 'exports/007.csv': quiet, 'exports/12.csv': quiet };
  const folder = folderWith({ 'unit.yaml': PIPELINE + keys, ...exports, ...files });
  const out = join(folder, 'report');
  const outcome = await commandLine(['run', 'unit.yaml', '--out', out, '--threads', '1', ...args], folder);
  const results =
    outcome.status === 0 ? JSON.parse(readFileSync(join(out, 'results.json'), 'utf8')) : ({} as Results);
  return { ...outcome, out, folder, results };
}

/** A page as its text. */
const textOf = (path: string): string =>
  readFileSync(path, 'utf8')
    .replace(/<style>[\s\S]*?<\/style>|<svg[\s\S]*?<\/svg>/g, '')
    .replace(/<[^>]+>/g, '')
    .replaceAll('&quot;', '"');

describe('a run with a care log and a table of beds', () => {
  let ran: Ran;
  beforeAll(async () => {
    ran = await run('care: care.csv\noccupancy: beds.csv\n', { 'care.csv': CARE, 'beds.csv': BEDS });
  });

  it('accounts for the rows of each log, apart from those of the exports', () => {
    expect(ran.results.logs).toEqual([
      {
        file: 'care.csv',
        kind: 'care',
        rowsRead: 6,
        rowsUsed: 4,
        rowsUndecided: 0,
        rowsSetAside: 2,
        warnings: ['It names 1 patient of whom there is no export: "9" (1 row).'],
      },
      {
        file: 'beds.csv',
        kind: 'occupancy',
        rowsRead: 1,
        rowsUsed: 1,
        rowsUndecided: 0,
        rowsSetAside: 0,
        warnings: [],
      },
    ]);
    expect(ran.results.counts).toEqual({ rowsRead: 1442, rowsUsed: 1442, rowsSetAside: 0 });
    expect(readFileSync(join(ran.out, 'tables/setaside.csv'), 'utf8').split('\r\n').slice(1, -1)).toEqual([
      ',care.csv,6,1,"bed ""5"" is not in the table of beds",",5,2031-02-12 02:00,,turned"',
      ',care.csv,7,1,"column ""Start"": ""soon"" is no time that can be read","007,,soon,,turned"',
    ]);
  });

  it('gives each patient the entries that are theirs, by name or by bed', () => {
    expect(ran.results.recordings.map(({ id, careEntries }) => [id, careEntries])).toEqual([
      ['007', 2],
      ['12', 1],
    ]);
  });

  it('says so on the pages, and what to know on the error channel', () => {
    expect(textOf(join(ran.out, 'index.html'))).toContain(
      'Care log care.csv: rows read 6, used 4, set aside 2 (each with its reason in tables/setaside.csv). It names 1 patient of whom there is no export: "9" (1 row).',
    );
    expect(textOf(join(ran.out, 'patient-007_detail.html'))).toContain(
      'The care log has 2 entries of this patient. Over all patients: Care log care.csv: rows read 6, used 4, set aside 2',
    );
    expect(ran.stderr).toBe(
      'cistern: care.csv: It names 1 patient of whom there is no export: "9" (1 row).\n',
    );
  });

  it('records the logs with their SHA-256, and the settings', () => {
    const { inputs } = JSON.parse(readFileSync(join(ran.out, 'run.json'), 'utf8'));
    const sha256 = createHash('sha256').update(CARE).digest('hex');
    expect(inputs).toContainEqual({ file: 'care.csv', bytes: CARE.length, sha256 });
    expect(inputs.map(({ file }: { file: string }) => file)).toEqual([
      '007.csv',
      '12.csv',
      'care.csv',
      'beds.csv',
    ]);
    expect(ran.results.settings).toMatchObject({
      care: { files: ['care.csv'] },
      occupancy: { files: ['beds.csv'] },
    });
  });

  it('comes out the same with one thread and two', () => {
    const names = ['index.html', 'patient-007.html', 'results.json', 'tables/setaside.csv'];
    const again = join(ran.folder, 'again');
    const two = ['run', 'unit.yaml', '--out', again, '--threads', '2'];
    expect(cistern(two, { cwd: ran.folder }).status).toBe(0);
    for (const name of names) {
      expect(
        readFileSync(join(again, name), 'utf8') === readFileSync(join(ran.out, name), 'utf8'),
        name,
      ).toBe(true);
    }
  });
});

describe('logs', () => {
  it('remove what was logged, and what has no entry stays', async () => {
    // Two minutes of coughing up: too long for a brief spike, and only one of the two is logged.
    const rises = nightCsv((minute) => (minute === 120 || minute === 300 ? 40 : 12));
    const care = 'Patient,Start,Event\n1,2031-02-11 20:58,suction\n';
    const set = ['--set', 'clean={handling: {riseMmHg: 6}}'];
    const { results } = await run('care: care.csv\n', { 'exports/1.csv': rises, 'care.csv': care }, set);
    const handled = results.recordings
      .find(({ id }) => id === '1')
      ?.removed.filter(({ rule }) => rule === 'handling');
    expect(handled).toMatchObject([
      { start: '2031-02-11T21:00:00+01:00', evidence: 'suctioning logged 20:58', decidedBy: null },
    ]);
  });

  it('are given as folders, patterns and lists; rows that stand in two files count once', async () => {
    const files = { 'logs/a.csv': CARE, 'logs/b.csv': CARE.replace('9,,', '12,,'), 'beds.csv': BEDS };
    const { results } = await run('care: logs\noccupancy: [beds.csv]\n', files);
    expect(results.logs.map(({ file, rowsUsed, rowsSetAside }) => [file, rowsUsed, rowsSetAside])).toEqual([
      ['a.csv', 4, 2],
      ['b.csv', 1, 5],
      ['beds.csv', 1, 0],
    ]);
    expect(results.recordings.map(({ careEntries }) => careEntries)).toEqual([2, 2]);
  });

  it('may have columns that the pipeline file names, and beds that are patients', async () => {
    const keys =
      'care: {files: care.csv, columns: {patient: Lager, start: {header: Wann, order: dayFirst}}}\n';
    const care = 'Lager;Wann;Event\n007;03/02/2031 20:00;turned\n';
    const { results } = await run(keys, { 'care.csv': care });
    expect(results.recordings.map(({ careEntries }) => careEntries)).toEqual([1, 0]);
  });

  it('are no exports where they lie among them', async () => {
    const { results, status } = await run('care: exports/care.csv\n', {
      'exports/care.csv': CARE.replace(',4,', '12,,'),
    });
    expect([status, results.failed, results.recordings.length]).toEqual([0, [], 2]);
  });

  it('say that a patient of theirs may be one whose zeros were lost', async () => {
    const { results } = await run('care: care.csv\n', { 'care.csv': CARE.replaceAll('007', '7') });
    expect(results.logs[0].warnings).toEqual([
      'It names 2 patients of whom there is no export: "7" (2 rows; is it "007" with its zeros lost?) and "9" (1 row).',
    ]);
    expect(results.recordings.map(({ careEntries }) => careEntries)).toEqual([0, 0]);
  });

  it('name what of them was not understood, up to three, those in the recording first', async () => {
    const care = [
      'Patient,Start,Event',
      '007,2031-02-10 12:00,tea',
      '007,2031-02-11 22:00,mouth care',
      '007,2031-02-11 23:00,turned',
      '12,2031-02-12 01:00,radio on',
      '007,2031-02-12 02:00,family visit',
      '007,2031-02-12 03:00,music',
    ].join('\n');
    const { results, out } = await run('care: care.csv\n', { 'care.csv': care });
    expect(results.recordings[0]).toMatchObject({
      careEntries: 5,
      careEntriesInside: 4,
      careEntriesNotUnderstood: 4,
      careNotUnderstood: [
        { start: '2031-02-11T22:00:00+01:00', text: 'mouth care' },
        { start: '2031-02-12T02:00:00+01:00', text: 'family visit' },
        { start: '2031-02-12T03:00:00+01:00', text: 'music' },
      ],
    });
    expect(textOf(join(out, 'patient-007_detail.html'))).toContain(
      'The care log has 5 entries of this patient, 4 of them not used by any rule, such as "mouth care" (11 Feb 22:00), "family visit" (12 Feb 02:00) and "music" (12 Feb 03:00). Over all',
    );
    expect(textOf(join(out, 'patient-12_detail.html'))).toContain(
      'The care log has 1 entry of this patient, 1 of them not used by any rule: "radio on" (12 Feb 01:00). Over all',
    );
  });

  it('of another year are told of, on the pages and on the error channel', async () => {
    const care = CARE.replaceAll('2031', '2013').replace(',4,', '12,,');
    const { out, results, stderr } = await run('care: care.csv\n', { 'care.csv': care });
    expect(textOf(join(out, 'patient-007.html'))).toContain(
      'None of the 2 entries of the care log falls into the time of the recording: they are of 11 February 2013 21:00 to 22:00. Look at the year and the time zone of the log.',
    );
    expect(textOf(join(out, 'patient-12.html'))).toContain(
      'The one entry of the care log does not fall into the time of the recording: it is of 12 February 2013 01:00. Look at the year',
    );
    const told =
      'Of 2 patients none of the entries falls into the time of the recording: "007" and "12". Look at the year and the time zone of the log.';
    expect(results.logs[0].warnings.at(-1)).toBe(told);
    expect(textOf(join(out, 'index.html'))).toContain(told);
    expect(stderr).toContain(`cistern: care.csv: ${told}\n`);
  });

  it('stand under their keys in the pipeline file that inspect writes, also where they lie among the exports', async () => {
    const folder = folderWith({
      'data/1.csv': quiet,
      'data/care.csv': CARE,
      'logs/beds.csv': BEDS,
      'logs/alarms.csv': ALARMS,
    });
    const inspect = [
      'inspect',
      'data',
      'logs/beds.csv',
      'logs/alarms.csv',
      '--set',
      'timezone=Europe/Oslo',
      '--write',
      'unit.yaml',
    ];
    expect((await commandLine(inspect, folder)).status).toBe(0);
    expect(readFileSync(join(folder, 'unit.yaml'), 'utf8')).toContain(
      'exports:\n  - data\ncare:\n  - data/care.csv\nalarms:\n  - logs/alarms.csv\noccupancy:\n  - logs/beds.csv\n',
    );
    const { status, stdout } = await commandLine(['run', 'unit.yaml', '--threads', '1'], folder);
    expect([status, stdout]).toEqual([0, expect.stringContaining('1 patient reported')]);
  });

  it('leave no word where none is given', async () => {
    const { results, stderr } = await run('', {});
    expect([results.logs, results.recordings[0].careEntries, stderr]).toEqual([[], null, '']);
  });

  it('may hold a header and no rows, which is said', async () => {
    const { results, status, stderr } = await run('care: care.csv\n', {
      'care.csv': 'Patient,Start,Event\n',
    });
    expect([status, results.recordings[0].careEntries]).toEqual([0, 0]);
    expect(stderr).toBe('cistern: care.csv: the table has a header and no rows (line 1).\n');
  });
});

const ALARMS = 'Patient,Onset,Parameter,Limit (mmHg),Priority\n007,2031-02-11 22:00,ICP,22,high\n';

describe('a log that cannot be used is refused with nothing written', async () => {
  test.each([
    [
      'that is not there',
      'care: nowhere.csv',
      {},
      'there is no file or folder nowhere.csv. Look at care in the pipeline file.',
    ],
    ['that is empty', 'care: care.csv', { 'care.csv': '' }, 'care.csv: the file is empty. Export it again.'],
    [
      'that is another kind of table',
      'care: alarms.csv',
      { 'alarms.csv': ALARMS },
      'alarms.csv: the file reads like an alarm log, and care names it as a care log. Look at care in the pipeline file; if it is right, name the columns there, as care: {files: ..., columns: {...}}.',
    ],
    [
      'that is an export',
      'occupancy: exports/12.csv',
      {},
      '12.csv, line 1: there is no column for the patient. A header such as "Patient" is expected; the columns are "Time", "ICP (mmHg)", "ABP mean (mmHg)". Name it in the pipeline file as occupancy: {files: ..., columns: {patient: ...}}.',
    ],
    [
      'whose dates can be read two ways',
      'care: care.csv',
      { 'care.csv': 'Patient,Start,Event\n007,03/02/2031 20:00,turn\n' },
      'care.csv, line 1, column "Start": the date can be read two ways, and no other row settles it: "03/02/2031 20:00" (line 2) is 3 February 2031 20:00:00 with the day first, and 2 March 2031 20:00:00 with the month first. Say which in the pipeline file, as care: {files: ..., columns: {start: {order: dayFirst}}} or {order: monthFirst}.',
    ],
    [
      'that names beds alone',
      'care: care.csv',
      { 'care.csv': 'Bed,Start,Event\n4,2031-02-11 20:00,turn\n' },
      'care.csv: the log names beds and no patients, and no table of beds is given. Give the table of who lay in which bed as occupancy in the pipeline file; where the exports are named by bed, say care: {files: ..., columns: {patient: the header of the beds}}.',
    ],
    [
      'whose columns are called otherwise',
      'care: {files: care.csv, columns: {who: Patient}}',
      { 'care.csv': CARE },
      'unit.yaml, line 4: unknown key "care.columns.who". Valid here: patient, bed, ward, start, end, kind, value, drug, dose, note.',
    ],
    [
      'of no path',
      'care: 7',
      {},
      'unit.yaml, line 4: care: expected a file, a folder or a pattern, a list of them, or {files: ..., columns: {patient: ...}}, not 7. Mend the value.',
    ],
  ] as const)('%s', async (_, key, files, sentence) => {
    const { status, stderr, stdout } = await run(`${key}\n`, files);
    expect({ status, stderr, stdout }).toEqual({ status: 2, stderr: `cistern: ${sentence}\n`, stdout: '' });
  });
});
