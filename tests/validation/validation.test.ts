import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { EVALUATION_SEEDS } from '../../fixtures/labelled/evaluation-set.js';
import { ROOT } from '../support/cistern.js';
import { measurePatient } from './measure/measure-patient.js';
import { joinRows } from './measure/rows.js';
import { reportFiles } from './report-files.js';
import { csvFiles, rowsFromCsv } from './tables.js';

const FOLDER = join(ROOT, 'reports/demo/validation');
const committed = (path: string): string => readFileSync(join(FOLDER, path), 'utf8');
const FIRST = EVALUATION_SEEDS.slice(0, 20);

/** Lines of a table that belong to some patients, with its header; a row names its patient first. */
function linesOf(csv: string, seeds: readonly number[]): string[] {
  const wanted = new Set(['seed', ...seeds.map(String)]);
  return csv.split('\r\n').filter((line) => wanted.has(line.split(',', 1)[0]));
}

// Made by `npm run validate`; run it again and commit where a change to a rule is meant.
describe('the committed validation report', () => {
  it('has the rows of its first 20 patients as they come out now', { timeout: 600_000 }, () => {
    const rows = joinRows(FIRST.map(measurePatient));
    for (const [path, text] of csvFiles(rows)) {
      expect(linesOf(text, FIRST), path).toEqual(linesOf(committed(path), FIRST));
    }
  });

  it('is made of the whole evaluation set', () => {
    const { recordings } = rowsFromCsv(committed);
    expect([...new Set(recordings.map(({ seed }) => seed))]).toEqual([...EVALUATION_SEEDS]);
  });

  it('has the page and the figures that its tables give, byte for byte', () => {
    for (const [path, text] of reportFiles(rowsFromCsv(committed))) {
      expect(text === committed(path), path).toBe(true);
    }
  });
});
