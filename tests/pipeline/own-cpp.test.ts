import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { RecordingResult, Results } from '../../src/report/results-schema.js';
import { folderWith, nightCsv } from '../support/cistern.js';
import { commandLine } from '../support/command-line.js';

const icp = (minute: number): number => (minute % 2 === 0 ? 11.5 : 12.5);
const map = (minute: number): number => 84 + (minute % 3);

async function run(export7: string): Promise<RecordingResult> {
  const folder = folderWith({
    'unit.yaml': 'timezone: UTC\nexports: exports\nreport: morning\n',
    'exports/7.csv': export7,
  });
  const out = join(folder, 'report');
  const { status, stderr } = await commandLine(['run', 'unit.yaml', '--out', out, '--threads', '1'], folder);
  expect(status, stderr).toBe(0);
  return (JSON.parse(readFileSync(join(out, 'results.json'), 'utf8')) as Results).recordings[0];
}

/** The night with a column of CPP, so much under MAP - ICP. */
const withCpp = (lower: number): string =>
  nightCsv(icp, map)
    .trimEnd()
    .split('\n')
    .map((line, i) => (i === 0 ? `${line},CPP (mmHg)` : `${line},${map(i - 1) - icp(i - 1) - lower}`))
    .join('\n');

test('the CPP of an export is compared with ours, and no figure comes from it', async () => {
  const without = await run(nightCsv(icp, map));
  const lower = await run(withCpp(12));
  expect(without.ownCpp).toBeNull();
  expect(lower.ownCpp).toMatchObject({
    header: 'CPP (mmHg)',
    minutes: 720,
    meanDifferenceMmHg: expect.closeTo(-12, 9),
    sdMmHg: expect.closeTo(0, 9),
    levels: [{ start: '2031-02-11T19:00:00+00:00', end: '2031-02-12T07:00:00+00:00', isSteady: true }],
  });
  expect(lower.ownCpp?.sentence).toContain('is lower than MAP minus ICP by about 12 mmHg throughout');
  expect(lower.cpp).toEqual(without.cpp);
  expect(lower.hours).toEqual(without.hours);
  expect(lower.files[0].columns.map(({ kind }) => kind)).toEqual(['icp', 'map', 'cpp']);
});

test('a CPP without a unit is left alone, and one that comes alone fails nobody', async () => {
  const unitless = await run(withCpp(12).replace('CPP (mmHg)', 'CPP'));
  expect(unitless.ownCpp).toBeNull();
  expect(unitless.files[0].leftAlone).toEqual([{ header: 'CPP', why: 'CPP, but its unit is not given' }]);
  const noMap = await run(withCpp(12).replace('ABP mean (mmHg)', 'x'));
  expect(noMap.ownCpp).toMatchObject({
    meanDifferenceMmHg: null,
    meanDifferenceMmHgReason: 'there is no MAP to compute CPP from',
    levels: [],
  });
  expect(noMap.cpp.meanMmHg).toBeNull();
});
