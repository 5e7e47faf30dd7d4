import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { pipelineOf } from '../../src/pipeline/load-pipeline.js';
import type { RecordingResult, Results } from '../../src/report/results-schema.js';
import { folderWith } from '../support/cistern.js';
import { commandLine } from '../support/command-line.js';
import { invented } from '../support/slow-waves.js';

/** Four hours at a sample every 10 s; MAP is written 40 s later than it happened. */
function late(): string {
  const { icp, map } = invented(21, 4, 0.8, 40);
  const rows = Array.from({ length: 1440 }, (_, i) => {
    const time = new Date(Date.UTC(2031, 1, 11, 20, 0, 10 * i)).toISOString().slice(0, 19).replace('T', ' ');
    return `${time},${icp[10 * i].toFixed(1)},${map[10 * i].toFixed(1)}`;
  });
  return `Time,ICP (mmHg),MAP (mmHg)\n${rows.join('\n')}\n`;
}

async function run(keys: string): Promise<{ result: RecordingResult; detail: string }> {
  const folder = folderWith({
    'unit.yaml': `timezone: UTC\nexports: exports\nperiod: all\nreport: morning\n${keys}`,
    'exports/7.csv': late(),
  });
  const out = join(folder, 'report');
  const { status, stderr } = await commandLine(['run', 'unit.yaml', '--out', out, '--threads', '1'], folder);
  expect(status, stderr).toBe(0);
  const [result] = (JSON.parse(readFileSync(join(out, 'results.json'), 'utf8')) as Results).recordings;
  return { result, detail: readFileSync(join(out, result.detailPage!), 'utf8') };
}

test('a lag is told, and nothing is moved unless somebody says so', async () => {
  const { result, detail } = await run('');
  const { clockLag } = result;
  expect(clockLag.isApart).toBe(true);
  expect(Math.abs(clockLag.lagSeconds! - 40)).toBeLessThan(5);
  expect(clockLag.shiftedSeconds).toEqual({ icp: 0, map: 0 });
  expect(clockLag.sentence).toMatch(
    /^Slow fluctuations come \d\d s later in MAP than in ICP \(r = 0\.\d\d\): the clocks of their devices may be apart, .* No times were moved for this; columns: \{map: \{shiftSeconds: \{"7": -\d\d\}\}\} in the pipeline file would do it for this patient\.$/,
  );
  expect(result.readingWarnings).toEqual([clockLag.sentence]);
  expect(detail).toContain('the clocks of their devices may be apart');
});

test('what the pipeline file says is done, and said', async () => {
  const { result, detail } = await run('columns: {map: {shiftSeconds: -40}}\n');
  const { clockLag } = result;
  expect(clockLag).toMatchObject({ isApart: false, shiftedSeconds: { icp: 0, map: -40 } });
  expect(Math.abs(clockLag.lagSeconds!)).toBeLessThan(5);
  expect(clockLag.sentence).toContain('go together best within 30 s of each other');
  const said = 'The times of MAP were moved by 40 s, to earlier ones, as the pipeline file says.';
  expect(result.readingWarnings).toEqual([said]);
  expect(detail).toContain(said);
});

test('a shift that leaves a lag is told with the shift that would leave none', async () => {
  const { result } = await run('columns: {map: {shiftSeconds: 60}}\n');
  expect(result.clockLag.sentence).toMatch(
    /may be apart beyond the 60 s already set, .*shiftSeconds: \{"7": -(?:3\d|4\d)\}\}\} in the pipeline file would do it for this patient; shifts of other patients stand beside it\.$/,
  );
});

test('a shift by patient moves that patient alone, and one of nobody is told', async () => {
  const folder = folderWith({
    'unit.yaml':
      'timezone: UTC\nexports: exports\nperiod: all\nreport: morning\ncolumns: {map: {shiftSeconds: {007: -40, 9: 5, 08: 5}}}\n',
    'exports/007.csv': late(),
    'exports/8.csv': late(),
  });
  const resultsOf = async (...more: string[]) => {
    const { status, stdout, stderr } = await commandLine(
      ['run', 'unit.yaml', '--out', 'report', '--threads', '1', '--no-pages', ...more],
      folder,
    );
    expect(status, stderr).toBe(0);
    const { recordings } = JSON.parse(readFileSync(join(folder, 'report/results.json'), 'utf8')) as Results;
    return { stdout, stderr, moved: recordings.map(({ clockLag }) => clockLag.shiftedSeconds.map) };
  };
  const first = await resultsOf();
  expect(first.moved).toEqual([-40, 0]);
  expect(first.stderr).toBe(
    'cistern: columns.map.shiftSeconds names patient "08", of whom there is no export. Its shift is not used: is it "8" with its zeros lost?\n' +
      'cistern: columns.map.shiftSeconds names patient "9", of whom there is no export. Its shift is not used: correct the id (ids are text), or take it out if the patient has left.\n',
  );
  const other = await resultsOf('--set', 'columns.map.shiftSeconds.007=-60');
  expect(other.moved).toEqual([-60, 0]);
  expect(other.stdout).toContain('1 read anew, 1 as it was stored');
});

test('--set gives the shift of a patient, also where the file names the column alone', () => {
  const shiftIn = (columns: string) =>
    pipelineOf(`exports: a\nreport: morning\n${columns}`, 'unit.yaml', {
      set: ['columns.map.shiftSeconds.305=-60'],
    }).ingest.columns.map;
  expect(shiftIn('')).toEqual({ shiftSeconds: { '305': -60 } });
  expect(shiftIn('columns: {map: ART M}\n')).toEqual({ header: 'ART M', shiftSeconds: { '305': -60 } });
  expect(shiftIn('columns: {map: {shiftSeconds: {305: 5, 007: 2}}}\n')).toEqual({
    shiftSeconds: { '305': -60, '007': 2 },
  });
});

test.each([
  ['{7: soon}', 'columns.map.shiftSeconds.7: expected a number of seconds, not "soon"'],
  [
    'soon',
    'columns.map.shiftSeconds: expected a number of seconds, or one by patient, as {"7": -60}, not "soon"',
  ],
  ['100000', 'columns.map.shiftSeconds: expected a shift of a day at most, in seconds, not 100000'],
])('a shift of %s is refused', (shift, message) => {
  const text = `exports: a\nreport: morning\ncolumns: {map: {shiftSeconds: ${shift}}}\n`;
  expect(() => pipelineOf(text, 'unit.yaml')).toThrow(`unit.yaml, line 3: ${message}. Mend the value.`);
});
