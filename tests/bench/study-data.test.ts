import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../support/cistern.js';
import { type StudyOnDisk, studyIn } from './study-data.js';
import { mapSeconds, stagesOf } from './study-stages.js';

/** Three hours each. */
const SIZE = { patients: 4, days: 0.125 };
const DIST = join(ROOT, 'dist');

describe('the cohort of the benchmark', () => {
  let folder: string;
  let study: StudyOnDisk;

  beforeAll(async () => {
    folder = join(mkdtempSync(join(tmpdir(), 'cistern-bench-')), 'cohort');
    study = await studyIn(folder, SIZE, false);
  });
  afterAll(() => rmSync(join(folder, '..'), { recursive: true }));

  it('has a row a second of each patient, with ICP in tenths', () => {
    const names = readdirSync(study.exports);
    expect(names).toHaveLength(SIZE.patients);
    let rows = 0;
    for (const name of names) {
      const [header, ...lines] = readFileSync(join(study.exports, name), 'utf8').trim().split('\n');
      expect(header).toBe('Time,ICP (mmHg),ABP mean (mmHg)');
      rows += lines.length;
      const odd = lines.filter((line) => !/^2031-\d\d-\d\d \d\d:\d\d:\d\d,(-?\d+\.\d)?,\d+$/.test(line));
      expect(odd).toEqual([]);
    }
    expect(study.rows).toBe(rows);
    expect(rows).toBe(SIZE.patients * (SIZE.days * 86_400 + 1));
    expect(readFileSync(join(folder, 'cohort.csv'), 'utf8').trim().split('\n')).toHaveLength(
      SIZE.patients + 1,
    );
  });

  it('is used again where it is of the size that is wanted, and made anew where it is not', async () => {
    const file = join(study.exports, readdirSync(study.exports)[0]);
    const before = statSync(file).mtimeMs;
    expect(await studyIn(folder, SIZE, true)).toEqual(study);
    expect(statSync(file).mtimeMs).toBe(before);
    expect(readFileSync(study.pipeline, 'utf8')).toContain('optimalCpp: true');
    const fewer = await studyIn(folder, { ...SIZE, patients: 2 }, false);
    expect(readdirSync(fewer.exports)).toHaveLength(2);
    study = await studyIn(folder, SIZE, false);
    expect(readdirSync(study.exports)).toHaveLength(SIZE.patients);
  });

  it('refuses a folder that holds anything else, and a disk without room', async () => {
    const other = join(folder, '../other');
    mkdirSync(other);
    writeFileSync(join(other, 'notes.txt'), 'mine');
    await expect(studyIn(other, SIZE, false)).rejects.toThrow(
      'holds files that are no cohort of this benchmark; name an empty or a new folder.',
    );
    expect(readdirSync(other)).toEqual(['notes.txt']);
    await expect(studyIn(join(folder, '../huge'), { patients: 1e9, days: 5 }, false)).rejects.toThrow(
      /GB free, and the cohort takes up to 13824000\.0 GB: name another folder with --data, or fewer --patients\./,
    );
  });

  it('goes through reading, cleaning and features, stage by stage', async () => {
    const { stages, mapped } = await stagesOf(DIST, study.pipeline, SIZE.patients, true);
    expect(stages.patients).toBe(SIZE.patients - 1);
    expect(stages.rows).toBe((study.rows * (SIZE.patients - 1)) / SIZE.patients);
    for (const seconds of [stages.ingest, stages.clean, stages.study, stages.studyWithOptimal]) {
      expect(seconds).toBeGreaterThan(0);
    }
    expect(mapped.length).toBeGreaterThan(0);
    const { map, draws } = await mapSeconds(DIST, mapped, 40, 20);
    expect(map).toBeGreaterThan(0);
    expect(draws).toBeGreaterThanOrEqual(0);
  });
});
