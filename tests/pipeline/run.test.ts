import {
  chmodSync,
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { runPipeline } from '../../src/index.js';
import type { Results } from '../../src/report/results-schema.js';
import { folderWith, newFolder, nightCsv, ROOT } from '../support/cistern.js';

const PIPELINE = 'exports: exports\ntimezone: Europe/Oslo\nreport: morning\nexpected: ["1", "2", "9"]\n';

/** A folder with a pipeline and the exports, and a place for the report. */
function unit(exports: Record<string, string>, pipeline = PIPELINE): { pipeline: string; out: string } {
  const files = Object.fromEntries(Object.entries(exports).map(([name, text]) => [`exports/${name}`, text]));
  const folder = folderWith({ 'unit.yaml': pipeline, ...files });
  return { pipeline: join(folder, 'unit.yaml'), out: join(folder, 'report') };
}

/** A channel that never changes is frozen. */
const lively = (minute: number): number => 12 + (minute % 2);
const quiet = nightCsv(lively);
const raised = nightCsv((minute) => (minute >= 120 && minute < 180 ? 30 + (minute % 2) : lively(minute)));
const read = (out: string): Results => JSON.parse(readFileSync(join(out, 'results.json'), 'utf8'));

describe('a run', () => {
  it('writes pages, results, tables and the record of the run', async () => {
    const { pipeline, out } = unit({ '1.csv': quiet, '2.csv': raised });
    const { results } = await runPipeline(pipeline, { out, threads: 1 });
    expect(readdirSync(out).sort()).toEqual([
      'handover.txt',
      'index.html',
      'patient-1.html',
      'patient-1_detail.html',
      'patient-2.html',
      'patient-2_detail.html',
      'results.json',
      'run.json',
      'tables',
    ]);
    expect(readdirSync(join(out, 'tables')).sort()).toEqual(
      [
        'agreement',
        'bedside',
        'cleaning',
        'days',
        'dictionary',
        'episodes',
        'hours',
        'marked',
        'nights',
        'patients',
        'removals',
        'setaside',
      ].map((t) => `${t}.csv`),
    );
    expect(read(out)).toEqual(JSON.parse(JSON.stringify(results)));
    expect(results.unit.order).toEqual(['9', '2', '1']);
    expect(results.recordings[1].episodes).toHaveLength(1);
    expect(results.noData).toEqual([{ id: '9', why: 'expected, but nothing was exported' }]);
  });

  it('writes results that fit the committed JSON Schema', async () => {
    const { pipeline, out } = unit({ '1.csv': quiet, '2.csv': 'Time,ICP (mmHg)\nnever,1\n' });
    await runPipeline(pipeline, { out, threads: 1 });
    const schema = JSON.parse(readFileSync(join(ROOT, 'src/report/results.schema.json'), 'utf8'));
    const validate = new Ajv2020({ strict: false }).compile(schema);
    expect([validate(read(out)), validate.errors]).toEqual([true, null]);
  });

  it('fails the patient of a bad export, names it on the page, and reports the others', async () => {
    const { pipeline, out } = unit({ '1.csv': quiet, '2.csv': raised.replaceAll(/,\d+,/g, ',3O,') });
    const { results } = await runPipeline(pipeline, { out, threads: 1 });
    expect(results.recordings.map(({ id }) => id)).toEqual(['1']);
    expect(results.failed).toEqual([
      {
        id: '2',
        rowsRead: 721,
        why: '2.csv, line 2: 721 of 721 rows cannot be used, this one first: column "ICP (mmHg)": "3O" is not a number. Correct the cell; where it means "no value", list it in the pipeline file as columns: {missing: [...]}.',
      },
    ]);
    const page = readFileSync(join(out, 'index.html'), 'utf8');
    expect(page).toContain('column &quot;ICP (mmHg)&quot;: &quot;3O&quot; is not a number.');
    expect(results.counts).toEqual({ rowsRead: 1442, rowsUsed: 721, rowsSetAside: 721 });
  });

  it('reports a patient of a single row as one of whom nobody can say, and the others', async () => {
    const one = `${raised.split('\n').slice(0, 2).join('\n')}\n`;
    const { pipeline, out } = unit({ '1.csv': quiet, '2.csv': one });
    const { results } = await runPipeline(pipeline, { out, threads: 1, set: ['period=all'] });
    expect(results.failed).toEqual([]);
    expect(results.unit.order).toEqual(['2', '9', '1']);
    for (const page of ['index.html', 'patient-2.html', 'patient-2_detail.html'])
      expect(readFileSync(join(out, page), 'utf8')).not.toMatch(/NaN|Infinity/);
    const single = results.recordings.find(({ id }) => id === '2');
    expect(single?.cleaning.channels).toMatchObject([
      { channel: 'icp', keptShare: 0, noDataShare: 0 },
      { channel: 'map', keptShare: 0, noDataShare: 0 },
    ]);
  });

  it('says on every page that cleaning was off or changed', async () => {
    const { pipeline, out } = unit({ '1.csv': quiet });
    await runPipeline(pipeline, { out, threads: 1, set: ['clean=none'] });
    for (const page of ['index.html', 'patient-1.html', 'patient-1_detail.html']) {
      expect(readFileSync(join(out, page), 'utf8')).toContain('<strong>Nothing was cleaned: coughs');
      expect(readFileSync(join(out, page), 'utf8')).not.toMatch(/[Aa]fter cleaning|Cleaned|Beside each rule/);
    }
    const page = readFileSync(join(out, 'patient-1.html'), 'utf8');
    expect(page).toContain('Nothing was cleaned; as exported, ICP is known for 100 % of the time.');
  });

  it('says at the top of the pages what the sampling cannot show to cleaning', async () => {
    const { pipeline, out } = unit({ '1.csv': quiet });
    await runPipeline(pipeline, { out, threads: 1 });
    expect(readFileSync(join(out, 'patient-1.html'), 'utf8')).toMatch(
      /<strong>Sampled every 60 s: zeroing, brief spikes, cough trains, .* cannot be told from the patient and stay in\.<\/strong>/,
    );
    expect(readFileSync(join(out, 'index.html'), 'utf8')).toContain(
      '<strong>In patient 1 the sampling is too coarse for some of the cleaning rules: what these would take stays in. The page of patient 1 names them.</strong>',
    );
  });

  it('writes figures alone where no pages are wanted, and the same ones', async () => {
    const { pipeline, out } = unit({ '1.csv': quiet, '2.csv': raised });
    const { results } = await runPipeline(pipeline, { out, threads: 1, pages: false });
    expect(readdirSync(out).sort()).toEqual(['results.json', 'run.json', 'tables']);
    const whole = await runPipeline(pipeline, { out, threads: 1 });
    const withoutPages = whole.results.recordings.map((recording) => ({
      ...recording,
      page: null,
      detailPage: null,
    }));
    expect(results).toEqual({ ...whole.results, recordings: withoutPages });
    expect(readdirSync(out)).toContain('index.html');
  });

  it('sets a row aside for a bad cell, says so on the page, and reports the patient', async () => {
    const { pipeline, out } = unit({ '1.csv': raised.replace(',30,', ',3O,') });
    const { results } = await runPipeline(pipeline, { out, threads: 1 });
    expect(results.failed).toEqual([]);
    expect(results.counts).toEqual({ rowsRead: 721, rowsUsed: 720, rowsSetAside: 1 });
    expect(results.recordings[0].readingWarnings).toEqual([
      'One row could not be used: 1.csv, line 122, column "ICP (mmHg)": "3O" is not a number.',
    ]);
    expect(readFileSync(join(out, 'patient-1.html'), 'utf8')).toContain('One row could not be used');
    expect(readFileSync(join(out, 'tables/setaside.csv'), 'utf8').split('\r\n')[1]).toMatch(
      /^1,1\.csv,122,1,"column ""ICP \(mmHg\)"": ""3O"" is not a number","[-0-9 :]+,3O,\d+"$/,
    );
  });

  it('stops at the first failure where it is strict, and leaves the old report', async () => {
    const { pipeline, out } = unit({ '1.csv': quiet });
    await runPipeline(pipeline, { out, threads: 1 });
    const before = readFileSync(join(out, 'results.json'), 'utf8');
    writeFileSync(join(pipeline, '../exports/2.csv'), 'Time,HR\n');
    await expect(runPipeline(pipeline, { out, threads: 1, strict: true })).rejects.toThrow(
      /^--strict: 2\.csv/,
    );
    expect(readFileSync(join(out, 'results.json'), 'utf8')).toBe(before);
    expect(readdirSync(join(out, '..')).sort()).toEqual(['.report.store', 'exports', 'report', 'unit.yaml']);
  });

  it('writes a page also where every patient failed', async () => {
    const { pipeline, out } = unit({ '1.csv': '', '2.csv': 'Time,ICP\n' });
    const { results } = await runPipeline(pipeline, { out, threads: 1 });
    expect(results.failed.map(({ id }) => id)).toEqual(['1', '2']);
    expect(readFileSync(join(out, 'tables/setaside.csv'), 'utf8').split('\r\n')[1]).toBe(
      '1,,,0,nothing could be read: 1.csv: the file is empty. Export it again.,',
    );
    expect(results.recordings).toEqual([]);
    expect(existsSync(join(out, 'index.html'))).toBe(true);
  });

  it('refuses exports that are not there, with nothing written', async () => {
    const { pipeline, out } = unit({});
    await expect(runPipeline(pipeline, { out, threads: 1 })).rejects.toThrow(
      'there is no file or folder exports. Look at exports in the pipeline file, or at --data.',
    );
    expect(existsSync(out)).toBe(false);
  });

  it('reports the last night that the data reach half of, the same for all patients', async () => {
    const ended = quiet.replaceAll('2031-02-11', '2031-02-09').replaceAll('2031-02-12', '2031-02-10');
    const { pipeline, out } = unit({ '1.csv': quiet, '2.csv': ended });
    const { results } = await runPipeline(pipeline, { out, threads: 1 });
    expect(results.period).toMatchObject({
      start: '2031-02-11T19:00:00+01:00',
      end: '2031-02-12T07:00:00+01:00',
      word: 'night',
    });
    expect(results.recordings.map(({ id }) => id)).toEqual(['1']);
    expect(results.noData[0]).toEqual({
      id: '2',
      why: 'no ICP in this time; the exports end at 10 February 2031 07:00',
    });
  });

  it('covers the period that the pipeline names', async () => {
    const { pipeline, out } = unit({ '1.csv': quiet });
    const set = ['period={from: "2031-02-11 20:00", to: "2031-02-11 21:30"}'];
    const { results } = await runPipeline(pipeline, { out, threads: 1, set });
    expect(results.period).toMatchObject({
      start: '2031-02-11T20:00:00+01:00',
      end: '2031-02-11T21:30:00+01:00',
    });
    expect(results.recordings[0].monitoredHours.icp).toBeCloseTo(1.5, 10);
    expect(results.recordings[0].hours.map(({ start }) => start.slice(11, 16))).toEqual(['20:00', '21:00']);
  });

  it('shows hostile ids, headers and titles as text', async () => {
    const hostile = '<script>alert(1)</script>"\'&';
    const csv = `Time,Bed,ICP (mmHg)\n${quiet
      .split('\n')
      .slice(1, -1)
      .map((row) => row.split(','))
      .map(([time, icp]) => `${time},"${hostile.replaceAll('"', '""')}",${icp}`)
      .join('\n')}\n`;
    const yaml = `${PIPELINE}title: ${JSON.stringify(hostile)}\npatient: {column: Bed}\n`;
    const { pipeline, out } = unit({ 'all.csv': csv }, yaml);
    const { results } = await runPipeline(pipeline, { out, threads: 1 });
    expect(results.recordings[0].id).toBe(hostile);
    for (const name of ['index.html', results.recordings[0].page ?? '']) {
      const page = readFileSync(join(out, name), 'utf8');
      expect(page).not.toContain('<script');
      expect(page).toContain('&lt;script>alert(1)&lt;/script>');
    }
  });

  it('keeps rows that were set aside for the owner only, each with file, line and reason', async () => {
    const { pipeline, out } = unit({
      '1.csv': `${quiet}2031-02-12 07:00:00,12,85\n2031-02-12 07:01:00,12\n`,
    });
    const { results } = await runPipeline(pipeline, { out, threads: 1 });
    const path = join(out, 'tables/setaside.csv');
    expect(statSync(path).mode & 0o777).toBe(0o600);
    const lines = readFileSync(path, 'utf8').trimEnd().split('\r\n');
    expect(lines[0]).toBe('patient,file,line,rows,reason,row');
    expect(lines.slice(1)).toEqual([
      '1,1.csv,723,1,"same time as line 722, and nothing new","2031-02-12 07:00:00,12,85"',
      '1,1.csv,724,1,2 cells where the header has 3,"2031-02-12 07:01:00,12"',
    ]);
    expect(results.counts).toEqual({ rowsRead: 723, rowsUsed: 721, rowsSetAside: 2 });
  });
});

describe('the report folder', () => {
  it('is not replaced where it holds something that no report has written', async () => {
    const { pipeline, out } = unit({ '1.csv': quiet });
    mkdirSync(out);
    writeFileSync(join(out, 'thesis.docx'), 'years of work');
    await expect(runPipeline(pipeline, { out, threads: 1 })).rejects.toThrow(
      /holds thesis\.docx, which no report has written/,
    );
    expect(readFileSync(join(out, 'thesis.docx'), 'utf8')).toBe('years of work');
  });

  it('is not a file', async () => {
    const { pipeline, out } = unit({ '1.csv': quiet });
    writeFileSync(out, 'x');
    await expect(runPipeline(pipeline, { out, threads: 1 })).rejects.toThrow(
      /is a file\. Give --out a folder\./,
    );
  });

  it('finishes a swap that a killed run left half made', async () => {
    const { pipeline, out } = unit({ '1.csv': quiet });
    await runPipeline(pipeline, { out, threads: 1 });
    // No process has the number 2^22 or more.
    const [fresh, old] = ['new', 'old'].map((ending) => join(out, '..', `.report.9999999-0a1b.${ending}`));
    renameSync(out, fresh);
    mkdirSync(old);
    // A run that comes to nothing still leaves the finished report in its place.
    writeFileSync(join(pipeline, '../exports/2.csv'), '');
    await expect(runPipeline(pipeline, { out, threads: 1, strict: true })).rejects.toThrow(/^--strict/);
    expect(existsSync(join(out, 'results.json'))).toBe(true);
    expect(existsSync(old) || existsSync(fresh)).toBe(false);
  });

  it('is written whole by each of two runs at once', async () => {
    const { pipeline, out } = unit({ '1.csv': quiet, '2.csv': raised });
    await Promise.all([1, 2, 3].map(() => runPipeline(pipeline, { out, threads: 1 })));
    expect(read(out).recordings.map(({ id }) => id)).toEqual(['1', '2']);
    expect(readdirSync(join(out, '..')).sort()).toEqual(['.report.store', 'exports', 'report', 'unit.yaml']);
  });

  it('stays where a link leads to', async () => {
    const { pipeline, out } = unit({ '1.csv': quiet });
    const real = join(newFolder(), 'real');
    mkdirSync(real);
    symlinkSync(real, out);
    await runPipeline(pipeline, { out, threads: 1 });
    expect(lstatSync(out).isSymbolicLink()).toBe(true);
    expect(existsSync(join(real, 'index.html'))).toBe(true);
  });

  it('is not read as exports where it lies among them', async () => {
    const { pipeline } = unit({ '1.csv': quiet });
    const out = join(pipeline, '../exports/report');
    await runPipeline(pipeline, { out, threads: 1 });
    const { results } = await runPipeline(pipeline, { out, threads: 1 });
    expect([results.recordings.length, results.failed.length]).toEqual([1, 0]);
  });

  it('that cannot be written is named', async () => {
    const { pipeline } = unit({ '1.csv': quiet });
    const blocked = join(newFolder(), 'file');
    writeFileSync(blocked, '');
    chmodSync(blocked, 0o400);
    await expect(runPipeline(pipeline, { out: join(blocked, 'report'), threads: 1 })).rejects.toThrow(
      /cannot be written \(ENOTDIR: a file stands where a folder is meant\)\. Choose another with --out\./,
    );
  });
});
