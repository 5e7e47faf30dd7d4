import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { Results } from '../../src/report/results-schema.js';
import { type CliOutcome, folderWith, nightCsv } from '../support/cistern.js';
import { commandLine } from '../support/command-line.js';

const icp = (minute: number): number => (minute % 2 === 0 ? 11.5 : 12.5);
/** 85 or so, but for half an hour from 21:00 on. */
const map = (minute: number): number => (minute >= 120 && minute < 150 ? 60 : 84) + (minute % 3);

const folderOf = (keys: string, files: Readonly<Record<string, string>> = {}): string =>
  folderWith({
    'unit.yaml': `timezone: UTC\nexports: exports\nreport: morning\n${keys}`,
    'exports/007.csv': nightCsv(icp, map),
    ...files,
  });

const runIn = (folder: string): Promise<CliOutcome> =>
  commandLine(['run', 'unit.yaml', '--out', join(folder, 'report'), '--threads', '1'], folder);

const resultsIn = (folder: string): Results =>
  JSON.parse(readFileSync(join(folder, 'report/results.json'), 'utf8')) as Results;

async function run(
  keys: string,
  files: Readonly<Record<string, string>> = {},
): Promise<{ out: string; folder: string; results: Results }> {
  const folder = folderOf(keys, files);
  const { status, stderr } = await runIn(folder);
  expect(status, stderr).toBe(0);
  return { out: join(folder, 'report'), folder, results: resultsIn(folder) };
}

test('episodes of low CPP stand beside those of ICP, in results.json and in the table', async () => {
  const { out, results } = await run('');
  const [{ lowCpp, episodes, cpp }] = results.recordings;
  expect(episodes).toEqual([]);
  expect(lowCpp.episodes).toMatchObject([{ openStart: false, openEnd: false, lowestMmHg: 47.5 }]);
  // By hand: from 73.5 to 48.5 mmHg behind minute 119, and from 49.5 to 72.5 behind minute 149.
  expect(lowCpp.episodes[0].minutes).toBeCloseTo(149 + 10.5 / 23 - (119 + 13.5 / 25), 6);
  expect(lowCpp.targets).toEqual([
    {
      start: '2031-02-11T19:00:00+00:00',
      end: '2031-02-12T07:00:00+00:00',
      belowMmHg: 60,
      file: null,
      line: null,
    },
  ]);
  // The target is the floor, so both count the same.
  expect(lowCpp.hours).toBeCloseTo(cpp.hoursBelowFloor!, 12);
  expect(lowCpp.doseMmHgHours).toBeCloseTo(cpp.doseBelowFloorMmHgHours!, 12);
  const [header, row] = readFileSync(join(out, 'tables/episodes.csv'), 'utf8').split('\r\n');
  expect(header).toBe(
    'patient,channel,start,end,minutes,highestMmHg,meanMmHg,doseMmHgHours,lowestCppMmHg,openStart,openEnd',
  );
  expect(row).toMatch(
    /^007,cpp,2031-02-11T20:59:\d\d\+00:00,2031-02-11T21:29:\d\d\+00:00,[\d.]+,,[\d.]+,[\d.]+,47.5,false,false$/,
  );
});

test('the pipeline file may set the threshold and the times, and the preset gives the threshold', async () => {
  const { results } = await run('segment: {cpp: {thresholdMmHg: 45, minSeconds: 600}}\n');
  expect(results.recordings[0].lowCpp).toMatchObject({
    hours: 0,
    episodes: [],
    targets: [{ belowMmHg: 45 }],
  });
  expect(results.settings.segment).toMatchObject({
    cpp: { thresholdMmHg: 45, minSeconds: 600, dipSeconds: 30, bridgeSeconds: 120 },
  });
  const child = await run('preset: paediatric\n');
  expect(child.results.recordings[0].lowCpp.targets[0].belowMmHg).toBe(40);
});

const TARGETS = `patient,from,CPP target (mmHg)
007,2031-02-11 21:10,45
007,2031-02-12 03:00,80
12,,70
`;

test('a table of targets says which held when, and the page which table it was', async () => {
  const { out, results } = await run('targets: targets.csv\n', { 'targets.csv': TARGETS });
  const [{ lowCpp }] = results.recordings;
  expect(lowCpp.targets).toEqual([
    {
      start: '2031-02-11T19:00:00+00:00',
      end: '2031-02-11T21:10:00+00:00',
      belowMmHg: 60,
      file: null,
      line: null,
    },
    {
      start: '2031-02-11T21:10:00+00:00',
      end: '2031-02-12T03:00:00+00:00',
      belowMmHg: 45,
      file: 'targets.csv',
      line: 2,
    },
    {
      start: '2031-02-12T03:00:00+00:00',
      end: '2031-02-12T07:00:00+00:00',
      belowMmHg: 80,
      file: 'targets.csv',
      line: 3,
    },
  ]);
  // From 20:59:32 on CPP is under 60; from 21:10 on 48 is over the target; from 03:00 on 71 to 74 is under it.
  expect(lowCpp.episodes.map(({ minutes }) => Math.round(minutes))).toEqual([10, 240]);
  expect(lowCpp.hours).toBeCloseTo((10 + 13.5 / 25 - 0.08) / 60 + 4, 2);
  expect(results.logs).toEqual([
    {
      file: 'targets.csv',
      kind: 'targets',
      rowsRead: 3,
      rowsUsed: 3,
      rowsUndecided: 0,
      rowsSetAside: 0,
      warnings: [
        'It names 1 patient of whom there is no export: "12" (1 row). Its target is not used: correct the id (ids are text), or ignore this if the patient has left.',
      ],
    },
  ]);
  expect(readFileSync(join(out, 'index.html'), 'utf8')).toContain('CPP targets targets.csv: rows read 3');
});

test('a target ends where its row says so, and one that begins behind the data is told', async () => {
  const { results } = await run('targets: targets.csv\n', {
    'targets.csv':
      'patient,from,until,CPP target (mmHg)\n007,2031-02-11 22:00,2031-02-12 01:00,80\n007,2031-02-13,,70\n',
  });
  const [{ lowCpp }] = results.recordings;
  expect(lowCpp.targets.map(({ start, belowMmHg, line }) => [start.slice(11, 16), belowMmHg, line])).toEqual([
    ['19:00', 60, null],
    ['22:00', 80, 2],
    ['01:00', 60, null],
  ]);
  expect(lowCpp.episodes.map(({ minutes }) => Math.round(minutes))).toEqual([30, 180]);
  expect(results.logs[0].warnings).toEqual([
    `Line 3: the target of patient "007" begins when the patient's data are over, and is not used: correct its time, or ignore this if the data are still to come.`,
  ]);
});

test('results change when the table does, though a result is stored', async () => {
  const { folder, results } = await run('targets: targets.csv\n', { 'targets.csv': TARGETS });
  writeFileSync(join(folder, 'targets.csv'), TARGETS.replace(',45', ',65'));
  expect((await runIn(folder)).status).toBe(0);
  const changed = resultsIn(folder).recordings[0].lowCpp;
  expect(changed.episodes[0].minutes).toBeGreaterThan(results.recordings[0].lowCpp.episodes[0].minutes + 15);
});

test.each([
  [
    'a row that cannot be used',
    TARGETS.replace(',80', ',8o'),
    'targets.csv, line 3: column "CPP target (mmHg)": "8o" is not a number.',
  ],
  [
    'rows that contradict each other',
    TARGETS.replace('12,,70', '007,2031-02-12 03:00,75'),
    'targets.csv, line 3: 80 mmHg here and 75 mmHg on line 4 are targets of patient "007" from the same time on.',
  ],
  [
    'a patient whose zeros were lost',
    TARGETS.replaceAll('007', '7'),
    'targets.csv, line 2: the row gives a target of patient "7", which no export holds. Did the spreadsheet drop the zeros of "007"?',
  ],
  [
    'a care log',
    'Patient,Start,Event\n007,2031-02-11 22:00,Turned\n',
    'targets.csv: the file reads like a care log, and targets names it as a table of CPP targets.',
  ],
])('refuses the run for %s', async (_what, text, message) => {
  const { status, stderr } = await runIn(folderOf('targets: targets.csv\n', { 'targets.csv': text }));
  expect(status).toBe(2);
  expect(stderr).toContain(message);
});

test('inspect says under which key the column of targets is named', async () => {
  const folder = folderOf('', { 'targets.csv': 'patient,from,target\n007,,65\n' });
  const { status, stdout } = await commandLine(['inspect', 'targets.csv'], folder);
  expect(status).toBe(1);
  expect(stdout).toContain(
    'there is no column for the lower target of CPP. A header such as "CPP target (mmHg)" is expected; the columns are "patient", "from", "target". Name it in the pipeline file as targets: {files: ..., columns: {cpp: ...}}.',
  );
  expect(stdout).toContain('This is   a table of CPP targets.');
});

test('a run over a report of another kind says that it is gone', async () => {
  const { folder } = await run('');
  expect((await runIn(folder)).stderr).toBe('');
  const args = ['run', 'unit.yaml', '--out', 'report', '--no-pages', '--set', 'report=perfusion'];
  const { status, stderr } = await commandLine(args, folder);
  expect([status, stderr]).toEqual([
    0,
    `cistern: ${join(folder, 'report')} held a morning report, and this perfusion report has replaced it. Give each a folder of its own with --out, and run the other one again.\n`,
  ]);
  expect((await commandLine(args, folder)).stderr).toBe('');
});

test('inspect recognises the table, and its pipeline file names it', async () => {
  const folder = folderOf('', { 'targets.csv': TARGETS });
  const { status, stdout } = await commandLine(
    ['inspect', 'exports/007.csv', 'targets.csv', '--write', 'new.yaml'],
    folder,
  );
  expect(status).toBe(0);
  expect(stdout).toMatch(/This is\s+a table of CPP targets\./);
  expect(readFileSync(join(folder, 'new.yaml'), 'utf8')).toContain('targets:\n  - targets.csv');
});
