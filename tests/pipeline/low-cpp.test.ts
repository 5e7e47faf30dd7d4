import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { Results } from '../../src/report/results-schema.js';
import { folderWith, nightCsv } from '../support/cistern.js';
import { commandLine } from '../support/command-line.js';

const icp = (minute: number): number => (minute % 2 === 0 ? 11.5 : 12.5);
/** 85 or so, but for half an hour from 21:00 on. */
const map = (minute: number): number => (minute >= 120 && minute < 150 ? 60 : 84) + (minute % 3);

async function run(keys: string): Promise<{ out: string; results: Results }> {
  const folder = folderWith({
    'unit.yaml': `timezone: UTC\nexports: exports\nreport: morning\n${keys}`,
    'exports/7.csv': nightCsv(icp, map),
  });
  const out = join(folder, 'report');
  const { status, stderr } = await commandLine(['run', 'unit.yaml', '--out', out, '--threads', '1'], folder);
  expect([status, stderr]).toEqual([0, '']);
  return { out, results: JSON.parse(readFileSync(join(out, 'results.json'), 'utf8')) as Results };
}

test('episodes of low CPP stand beside those of ICP, in results.json and in the table', async () => {
  const { out, results } = await run('');
  const [{ lowCpp, episodes, cpp }] = results.recordings;
  expect(episodes).toEqual([]);
  expect(lowCpp.episodes).toMatchObject([{ openStart: false, openEnd: false, lowestMmHg: 47.5 }]);
  // By hand: from 73.5 to 48.5 mmHg behind minute 119, and from 49.5 to 72.5 behind minute 149.
  expect(lowCpp.episodes[0].minutes).toBeCloseTo(149 + 10.5 / 23 - (119 + 13.5 / 25), 9);
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
    /^7,cpp,2031-02-11T20:59:\d\d\+00:00,2031-02-11T21:29:\d\d\+00:00,[\d.]+,,[\d.]+,[\d.]+,47.5,false,false$/,
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
