/**
 * `npm run demo:month`: a month of twelve beds at 1 Hz, invented, 31 million rows: writes exports and logs to
 * reports/demo-month-data, where nothing is tracked, and the report to reports/demo-month.
 * Options: --beds N (12), --days N (30), --report NAME, --data-only.
 */
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { WHOLE_MONTH } from '../../fixtures/generator/audit/units.js';
import { MONTH_REPORT, monthIn } from '../bench/month-data.js';

const at = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url));

const { values } = parseArgs({
  options: {
    beds: { type: 'string', default: String(WHOLE_MONTH.beds) },
    days: { type: 'string', default: String(WHOLE_MONTH.days) },
    report: { type: 'string', default: MONTH_REPORT },
    'data-only': { type: 'boolean', default: false },
  },
});

const begun = performance.now();
const size = { beds: Number(values.beds), days: Number(values.days) };
const month = await monthIn(at('reports/demo-month-data'), size, values.report);
const seconds = (performance.now() - begun) / 1000;
console.log(
  `${month.patients} invented patients, ${(month.rows / 1e6).toFixed(1)} million rows and ${month.alarms} alarms in ${month.folder} after ${seconds.toFixed(0)} s`,
);
if (!values['data-only']) {
  const run = [at('dist/command-line/main.js'), 'run', month.pipeline, '--out', at('reports/demo-month')];
  const { status } = spawnSync(process.execPath, run, { stdio: 'inherit' });
  process.exitCode = status ?? 1;
}
