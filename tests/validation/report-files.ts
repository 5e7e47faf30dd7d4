/** All files of the validation report, by path below its folder: a pure function of the rows. */
import { dictionary } from '../../src/report/tables/tidy-table.js';
import type { Rows } from './measure/rows.js';
import { validationPage } from './page/validation-page.js';
import { resultsJson, resultsOf } from './results.js';
import { csvFiles, tablesOf } from './tables.js';

export function reportFiles(rows: Rows): Map<string, string> {
  const results = resultsOf(rows);
  return new Map([
    ['index.html', validationPage(results)],
    ['results.json', resultsJson(results)],
    ...csvFiles(rows),
    ['tables/dictionary.csv', dictionary(tablesOf(rows))],
  ]);
}
