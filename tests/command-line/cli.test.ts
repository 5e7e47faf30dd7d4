import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { cistern, folderWith, MAIN, newFolder, nightCsv, ROOT } from '../support/cistern.js';

const yaml = 'exports: exports\nreport: morning\n';
const quiet = nightCsv((minute) => 12 + (minute % 2));

describe('cistern run', () => {
  it('exits 0, says which page to open, and tells of each patient on standard error', () => {
    const cwd = folderWith({ 'unit.yaml': yaml, 'exports/1.csv': quiet });
    const { status, stdout, stderr, progress } = cistern(['run', 'unit.yaml'], { cwd });
    expect(stderr).toBe('');
    // A run of over a second tells its pace too.
    expect(progress.join('\n')).toMatch(
      /^cistern: 1 of 1, patient 1: 721 rows read(?:, \d+ rows a second)?$/,
    );
    expect(stdout).toBe(
      [
        '1 patient reported, 0 without data, 0 failed.',
        'Rows read 721, used 721, set aside 0.',
        'ICP of patient 1 was never above 22 mmHg.',
        `Open ${join('reports', 'unit', 'index.html')}`,
        '',
      ].join('\n'),
    );
    expect(status).toBe(0);
    expect(existsSync(join(cwd, 'reports/unit/index.html'))).toBe(true);
  });

  it('exits 1 where a patient failed and the rest is written', () => {
    const cwd = folderWith({ 'unit.yaml': yaml, 'exports/1.csv': quiet, 'exports/2.csv': 'Time,HR\n1,2\n' });
    const { status, stdout, stderr } = cistern(['run', 'unit.yaml', '--out', 'here'], { cwd });
    expect(status).toBe(1);
    expect(stdout).toContain('1 patient reported, 0 without data, 1 failed.');
    expect(stderr).toMatch(/^cistern: patient 2 failed: 2\.csv.*\n$/);
    expect(existsSync(join(cwd, 'here/index.html'))).toBe(true);
  });

  it('exits 2 with one line and nothing written where it is refused', () => {
    const cwd = folderWith({ 'unit.yaml': yaml });
    const { status, stdout, stderr } = cistern(['run', 'unit.yaml'], { cwd });
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toBe(
      'cistern: there is no file or folder exports. Look at exports in the pipeline file, or at --data.\n',
    );
    expect(readdirSync(cwd)).toEqual(['unit.yaml']);
  });

  it('exits 2 with --strict where a patient fails, and writes nothing', () => {
    const cwd = folderWith({ 'unit.yaml': yaml, 'exports/1.csv': quiet, 'exports/2.csv': '' });
    const { status, stderr } = cistern(['run', 'unit.yaml', '--strict'], { cwd });
    expect(status).toBe(2);
    expect(stderr).toBe(
      'cistern: --strict: 2.csv: the file is empty. Export it again. Nothing was written.\n',
    );
    expect(existsSync(join(cwd, 'reports/unit'))).toBe(false);
  });

  it('gives a packed file and a plain one the same figures, with one thread and two', () => {
    const [a, b] = ['1', '2'].map((threads) => {
      const out = join(newFolder(), 'report');
      const run = cistern([
        'run',
        'demo',
        '--data',
        'fixtures/demo-unit/exports',
        '--out',
        out,
        '--threads',
        threads,
      ]);
      expect(run.status).toBe(0);
      return readFileSync(join(out, 'index.html'), 'utf8');
    });
    expect(a).toBe(b);
  });
});

describe('cistern check', () => {
  it('says that a file is right without reading exports', () => {
    const cwd = folderWith({ 'unit.yaml': yaml });
    const { status, stdout } = cistern(['check', 'unit.yaml'], { cwd });
    expect(status).toBe(0);
    expect(stdout.split('\n')[0]).toBe('The pipeline file is right.');
    expect(readdirSync(cwd)).toEqual(['unit.yaml']);
  });

  it('says what a study will ask, and no period', () => {
    const file = 'exports: exports\ncohort: cohort.csv\nreport: study\n';
    const cwd = folderWith({ 'unit.yaml': file });
    const said = (...sets: string[]): string => {
      const { status, stdout, stderr } = cistern(
        ['check', 'unit.yaml', ...sets.flatMap((set) => ['--set', set])],
        { cwd },
      );
      expect(status, stderr).toBe(0);
      return stdout;
    };
    const usual = said();
    expect(usual).toContain(
      'Study: burden in the first 72 h of monitoring, ICP known for 12 h of them. Outcome: on the scale of most of the table.\n',
    );
    expect(usual).toContain('Features that are asked about (the usual ones): icpMeanMmHg per 5, ');
    expect(usual).toContain('adjusted by age, GCS and pupils. Counted as well: ICP above 15, ');
    expect(usual).toContain('Patients stand in tables under pseudonyms.\n');
    expect(usual).not.toContain('Period');
    const other = said(
      'study.features.prxMean=0.2',
      'study.adjusters=[]',
      'study.outcome={scale: gose, favourableFrom: 4, months: 6}',
    );
    expect(other).toContain(
      'Outcome: gose, favourable from 4, assessed 6 months after the injury, give or take 1.\n',
    );
    expect(other).toContain(
      'Features that are asked about (as the file names them, and no others): prxMean per 0.2.\n',
    );
    expect(other).toContain('Odds ratios are adjusted by nothing.');
  });

  it('says the period, levelling, targets and shifts that it will use', () => {
    const cwd = folderWith({ 'unit.yaml': yaml });
    const said = (...sets: string[]): string[] => {
      const flags = sets.flatMap((set) => ['--set', set]);
      const { status, stdout, stderr } = cistern(['check', 'unit.yaml', ...flags], { cwd });
      expect(status, stderr).toBe(0);
      return stdout.split('\n');
    };
    expect(said()).toEqual(
      expect.arrayContaining([
        'Period: the last night.',
        'CPP below 60 mmHg for 300 s is an episode of low CPP.',
        'CPP is as the lines were zeroed; levelling is not given.',
      ]),
    );
    expect(
      said(
        'report=perfusion',
        'targets=cpp.csv',
        'levelling={zeroedAt: heart, heartToEarCm: 30, headOfBed: careLog}',
        'care=care.csv',
        'columns.icp.shiftSeconds=5',
        'columns.map.shiftSeconds.007=-60',
      ),
    ).toEqual(
      expect.arrayContaining([
        'Period: all of the data.',
        'CPP below 60 mmHg for 300 s is an episode of low CPP, where the table of targets gives no other target: cpp.csv.',
        'Levelling: the line was zeroed at the heart, and it is 30 cm to the ear, head of the bed at the angle of the care log, before its first entry not known.',
        'Times are moved: ICP by 5 s for every patient; MAP by -60 s for patient "007".',
      ]),
    );
    const more = said(
      'timezone=UTC',
      'period={from: "2031-02-11 19:00", to: "2031-02-12 07:00"}',
      'levelling={zeroedAt: heart, verticalCm: -5}',
    );
    expect(more).toContain('Period: 11 February 2031 19:00 to 12 February 2031 07:00.');
    expect(more).toContain('Levelling: the line was zeroed at the heart, and the ear lies 5 cm below it.');
  });

  it('exits 2 with place and fix where it is wrong', () => {
    const { status, stderr } = cistern(['check', 'demo', '--set', 'preset=child']);
    expect(status).toBe(2);
    expect(stderr).toBe(
      'cistern: --set preset=child: preset: "child" is no valid value. Valid here: adult, paediatric.\n',
    );
  });
});

describe('the command line', () => {
  it.each([
    [['--help'], 0],
    [['run', '--help'], 0],
    [['--version'], 0],
    [[], 2],
    [['run'], 2],
    [['rum', 'demo'], 2],
    [['run', 'demo', '--ot', 'x'], 2],
    [['run', 'demo', '--threads', 'many'], 2],
    [['check', 'demo', 'twice'], 2],
  ])('%j exits %i', (args, expected) => {
    expect(cistern(args).status).toBe(expected);
  });

  it('suggests the option that was meant', () => {
    expect(cistern(['run', 'demo', '--ot', 'x']).stderr).toBe(
      "error: unknown option '--ot'\n(Did you mean --out?)\n(cistern --help explains the commands)\n",
    );
  });

  it('ends quietly where whoever reads what it prints stops reading', () => {
    const script = `"${process.execPath}" "${MAIN}" run --help | true; echo " \${PIPESTATUS[0]}"`;
    const { stdout, stderr } = spawnSync('bash', ['-c', script], { encoding: 'utf8' });
    expect(stderr).toBe('');
    expect(stdout).toBe(' 0\n');
  });
  it('prints the version of the package', () => {
    const { version } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));
    expect(cistern(['--version']).stdout).toBe(`${version}\n`);
  });
});
