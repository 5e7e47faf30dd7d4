import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Results } from '../../src/report/results-schema.js';
import type { StudyResult } from '../../src/report/results-study.js';
import { type CliOutcome, cistern, folderWith, newFolder } from '../support/cistern.js';
import { commandLine } from '../support/command-line.js';
import { differences } from '../support/compare-folders.js';

const two = (n: number): string => String(n).padStart(2, '0');

/** Thirty hours from 2031-02-11 08:00, a row a minute: ICP around a level, above 22 for some minutes of each hour. */
function stayCsv(level: number, raised: number): string {
  const rows = Array.from({ length: 1800 }, (_, minute) => {
    const [day, hour] = [11 + Math.floor((minute + 480) / 1440), Math.floor((minute + 480) / 60) % 24];
    const icp = minute % 60 < raised ? 27 : level + ((minute * 7) % 5) / 2;
    return `2031-02-${day} ${two(hour)}:${two(minute % 60)}:00,${icp},${85 + (minute % 3)}`;
  });
  return `Time,ICP (mmHg),ABP mean (mmHg)\n${rows.join('\n')}\n`;
}

/** Patients of whom more have a bad outcome the longer ICP is raised; nobody of the odd ones has an outcome alike. */
const PATIENTS = Array.from({ length: 24 }, (_, i) => ({
  id: `heron-${two(i + 1)}`,
  level: 9 + (i % 6),
  raised: (i * 5) % 24,
  gose: 8 - Math.min(7, Math.floor(((i * 5) % 24) / 4) + (i % 3)),
}));
const HEADER =
  'Patient,Age (years),Injury,GCS total,GCS motor,CT,Pupils reacting,Motor posturing,SBP (mmHg),Treatment withdrawn,Death,GOSE,Outcome assessed,Remarks\n';
const rowOf = ({ id, gose }: (typeof PATIENTS)[number], i: number): string =>
  `${id},${30 + 2 * i},2031-02-11 05:00,${3 + (i % 5)},${1 + (i % 5)},abnormal,${i % 3},no,${90 + i},no,${gose === 1 ? '2031-03-01' : 'no'},${gose},6 months,Seen by Somebody Invented\n`;

const STUDY = 'study: {leastHours: 6, resamples: 100, features: {icpMeanMmHg: 2, icpShareAbove22: 0.1}';

function cohortFolder(
  patients: readonly (typeof PATIENTS)[number][],
  {
    rows = patients.map(rowOf).join(''),
    exports = {},
    more = '',
  }: { rows?: string; exports?: Record<string, string>; more?: string } = {},
): string {
  return folderWith({
    'unit.yaml': `timezone: Europe/Oslo\nreport: study\nexports: exports\ncohort: cohort.csv\n${STUDY}${more}}\n`,
    'cohort.csv': HEADER + rows,
    ...Object.fromEntries(
      patients.map(({ id, level, raised }) => [`exports/${id}.csv`, stayCsv(level, raised)]),
    ),
    ...exports,
  });
}

interface Ran extends CliOutcome {
  readonly folder: string;
  readonly out: string;
  readonly results: Results;
  readonly study: StudyResult;
  readonly page: string;
}

async function ranIn(folder: string, args: readonly string[] = []): Promise<Ran> {
  const out = join(folder, 'report');
  const outcome = await commandLine(['run', 'unit.yaml', '--out', out, '--threads', '1', ...args], folder);
  const results = JSON.parse(readFileSync(join(out, 'results.json'), 'utf8')) as Results;
  const page = args.includes('--no-pages') ? '' : readFileSync(join(out, 'index.html'), 'utf8');
  return { ...outcome, folder, out, results, study: results.study!, page };
}

const filesOf = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name));
const isPrivate = (path: string): boolean => (statSync(path).mode & 0o077) === 0;
const csv = (out: string, table: string): string => readFileSync(join(out, 'tables', `${table}.csv`), 'utf8');
const stepsOf = ({ flow }: StudyResult) =>
  Object.fromEntries(flow.steps.map(({ step, excluded }) => [step, excluded]));

describe('an outcome study from exports and a cohort table', () => {
  let ran: Ran;
  beforeAll(async () => {
    // Of the last four: no row, no exports, two rows, an outcome that is no level; one export cannot be read, one has no ICP.
    const rows = PATIENTS.slice(0, 23).map(rowOf);
    ran = await ranIn(
      cohortFolder(PATIENTS, {
        rows: [
          ...rows.slice(0, 21),
          rows[21],
          rows[21].replace(',6 months', ',3 months'),
          rows[22].replace(/,\d,6 months/, ',9,6 months'),
          rowOf({ ...PATIENTS[0], id: 'heron-77' }, 3),
          rowOf({ ...PATIENTS[0], id: 'broken-8' }, 4),
          rowOf({ ...PATIENTS[0], id: 'line-4' }, 5),
        ].join(''),
        exports: {
          'exports/broken-8.csv': 'this is no export\n',
          'exports/line-4.csv': 'Time,ABP mean (mmHg)\n2031-02-11 08:00:00,85\n2031-02-11 08:01:00,86\n',
        },
      }),
    );
  });

  it('is written where a patient failed, and says who is in and who is out', () => {
    expect(ran.status).toBe(1);
    expect(ran.stdout).toContain('24 patients reported, 0 without data, 2 failed.');
    expect(ran.stdout).toContain(
      'rows of the cohort table 3 could not be used: tables/setaside.csv says why.\n',
    );
    expect(ran.study.flow).toMatchObject({
      inTable: 24,
      rowsSetAside: 3,
      withOutcome: 21,
      exportsWithoutRow: 3,
    });
    expect(stepsOf(ran.study)).toEqual({
      noExports: 1,
      notRead: 1,
      noIcp: 1,
      littleMonitored: 0,
      noOutcome: 0,
      withdrawn: 0,
    });
    const aside = csv(ran.out, 'setaside');
    // What the page and results.json send people here for.
    expect(ran.page).toContain(
      'The exports of 2 patients, in the table or not, could not be read or have no column of ICP (tables/setaside.csv says why).',
    );
    expect(aside).toContain('nothing could be read: broken-8.csv');
    expect(aside).toContain(
      'all 2 rows: the patient failed: line-4.csv: there is no ICP column. A header such as',
    );
    expect(aside).toContain('9 is none of the levels 1 to 8');
    expect(aside.match(/patient ""heron-22"" stands on line \d+ as well/g)).toHaveLength(2);
  });

  it('counts what the exports hold', () => {
    const [first] = csv(ran.out, 'features-long')
      .split('\r\n')
      .filter((line) => /,primary,.*icpShareAbove22,/.test(line));
    expect(first).toBeDefined();
    const [, share] = ran.study.features;
    expect(share).toMatchObject({ key: 'icpShareAbove22', known: 21, step: 0.1 });
    // 27 mmHg for so many minutes of 60; the ways up and down are a minute each, from a level under 22.
    expect(share.spread.unfavourable.median).toBeGreaterThan(share.spread.favourable.median ?? 1);
    expect(share.area.value).toBeGreaterThan(0.8);
  });

  it('names nobody outside of the files that are for their owner alone', () => {
    const files = filesOf(ran.out);
    const telling = files
      .filter((path) => /heron-|broken-8|Somebody/.test(readFileSync(path, 'latin1')))
      .map((path) => path.slice(ran.out.length + 1));
    expect(telling.sort()).toEqual(['key.csv', 'run.json', 'tables/remarks.csv', 'tables/setaside.csv']);
    const owners = files.filter(isPrivate).map((path) => path.slice(ran.out.length + 1));
    expect(owners.sort()).toEqual(
      [
        ...telling,
        ...['features', 'features-long', 'patients'].flatMap((name) => [
          `tables/${name}.csv`,
          `tables/${name}.parquet`,
        ]),
      ].sort(),
    );
    expect(readFileSync(join(ran.out, 'key.csv'), 'utf8').trim().split('\r\n')).toHaveLength(1 + 27);
  });

  it('shows no date on its page, nor in results.json, and no pseudonym on its page', () => {
    expect(ran.page).not.toMatch(/2031|\bP\d\d\b/);
    expect(readFileSync(join(ran.out, 'results.json'), 'utf8')).not.toContain('2031');
  });

  it('says the cautions and what goes with outcome', () => {
    expect(ran.page).toContain('association is not effect');
    expect(ran.page).toContain('Nothing is tested here');
    expect(ran.stdout).toContain(ran.study.sentence);
  });

  it('gives the same bytes with two threads, and out of the store', () => {
    const out = join(newFolder(), 'two');
    const args = ['run', 'unit.yaml', '--out', out, '--threads', '2'];
    for (const times of ['anew', 'stored']) {
      const { status, stdout } = cistern(args, { cwd: ran.folder });
      expect([times, status]).toEqual([times, 1]);
      if (times === 'stored') expect(stdout).toContain('25 as they were stored');
      expect(differences(out, ran.out, join(newFolder(), 'different'))).toEqual([]);
    }
  });

  it('takes all patients from the store where only outcomes have changed', async () => {
    const table = join(ran.folder, 'cohort.csv');
    writeFileSync(table, readFileSync(table, 'utf8').replaceAll(/,8,6 months/g, ',7,6 months'));
    const again = await ranIn(ran.folder, ['--no-pages']);
    expect(again.study.outcome.levels.at(-1)?.count).toBe(0);
    // All but the one whose export cannot be read. Pages or none: a study draws nothing of a patient.
    expect(again.stdout).toContain('26 patients: 1 read anew, 25 as they were stored.');
  });
});

describe('a study of a doubtful cohort is written, and says what cannot be said', () => {
  it('of five patients', async () => {
    const { status, study, page } = await ranIn(cohortFolder(PATIENTS.slice(0, 5)));
    expect(status).toBe(0);
    expect(study.patients).toBe(5);
    expect(study.features.every(({ area }) => area.value === null)).toBe(true);
    expect(study.sentence).toMatch(/^5 patients have a known outcome.*nothing is compared|too few/);
    expect(page).toContain('a comparison needs 10');
  });

  it('of one group alone', async () => {
    const good = PATIENTS.slice(0, 12).map((one) => ({ ...one, gose: 7 }));
    const { study, page } = await ranIn(cohortFolder(good));
    expect(study.outcome.counts).toEqual({ favourable: 12, unfavourable: 0 });
    expect(page).toContain('All outcomes are favourable: nothing can be compared.');
  });

  it('of a feature that is the same in all', async () => {
    const same = PATIENTS.slice(0, 12).map((one) => ({ ...one, raised: 0 }));
    const { study, page } = await ranIn(cohortFolder(same));
    const [, share] = study.features;
    expect([share.area.value, share.area.reason]).toEqual([null, 'all patients have the same value']);
    expect(page).toContain('all patients have the same value');
  });

  it('of outcomes that the feature parts completely', async () => {
    const parted = PATIENTS.slice(0, 14).map((one, i) => ({ ...one, raised: i, gose: i < 7 ? 7 : 2 }));
    const { study, page } = await ranIn(cohortFolder(parted));
    const [, share] = study.features;
    expect(share.logistic).toMatchObject({ method: 'penalised likelihood', separation: 'complete' });
    expect(page).toContain('penalised likelihood');
  });

  it('without any outcome', async () => {
    const rows = PATIENTS.slice(0, 6)
      .map(rowOf)
      .join('')
      .replaceAll(/,\d,6 months/g, ',,');
    const { study } = await ranIn(cohortFolder(PATIENTS.slice(0, 6), { rows }));
    expect(study.patients).toBe(0);
    expect(stepsOf(study).noOutcome).toBe(6);
  });
});

describe('a study is refused', () => {
  const refused = async (folder: string): Promise<string> => {
    const { status, stderr } = await commandLine(
      ['run', 'unit.yaml', '--out', 'report', '--threads', '1'],
      folder,
    );
    expect(status).toBe(2);
    return stderr;
  };

  it('where nobody of the table has exports', async () => {
    const rows = PATIENTS.map((one, i) => rowOf({ ...one, id: `ibis-${i}` }, i)).join('');
    expect(await refused(cohortFolder(PATIENTS.slice(0, 2), { rows }))).toMatch(/export/);
  });

  it('where a feature is none', async () => {
    const folder = cohortFolder(PATIENTS.slice(0, 1));
    writeFileSync(
      join(folder, 'unit.yaml'),
      'exports: exports\ncohort: cohort.csv\nreport: study\nstudy: {features: {icpMeanMmHG: 5}}\n',
    );
    expect(await refused(folder)).toContain(
      'study.features: "icpMeanMmHG" is none of the features. Did you mean',
    );
  });
});
