import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { auditPage } from '../report/audit/audit-page.js';
import type { Draw } from '../report/charts/spec.js';
import type { UnitResults } from '../report/results-schema.js';
import { studyPage } from '../report/study/study-page.js';
import { auditTables, OF_SINGLE_EVENTS } from '../report/tables/audit-tables.js';
import { toCsv } from '../report/tables/csv.js';
import { CSVW_FILE, csvwOf } from '../report/tables/csvw.js';
import { parquetOf } from '../report/tables/parquet.js';
import { studyDictionary } from '../report/tables/study-dictionary.js';
import { OF_SINGLE_PATIENTS, studyTables } from '../report/tables/study-tables.js';
import { dictionary, tidyCsv } from '../report/tables/tidy-table.js';
import type { ComposedAudit } from './compose-audit.js';
import type { ComposedStudy } from './compose-study.js';
import type { ComposedUnit } from './compose-unit.js';
import type { Settings } from './settings.js';
import { withoutNames } from './without-names.js';

/** What may identify a patient is for its owner alone. */
const PRIVATE = { mode: 0o600 };

/** The drawing code takes long to load, and is not needed for figures alone. */
const draw: Draw = async (spec, key) => (await import('../report/charts/render.js')).renderSvg(spec, key);

const json = (value: object): string => `${JSON.stringify(value, null, 2)}\n`;

/** The tables of an audit; where small counts are masked, those of single alarms and episodes are for the owner alone. */
async function writeAuditTables(folder: string, { input, result }: ComposedAudit): Promise<void> {
  const tables = auditTables(input, result);
  await writeFile(join(folder, 'dictionary.csv'), dictionary(tables));
  for (const table of tables) {
    const isOpen = result.maskBelow === null || !OF_SINGLE_EVENTS.has(table.name);
    await writeFile(join(folder, `${table.name}.csv`), tidyCsv(table), isOpen ? {} : PRIVATE);
  }
}

/** The tables of a study, as CSV and as Parquet, with what each column is; those with a row a patient are for the owner alone. */
async function writeStudyTables(folder: string, { cohort, result }: ComposedStudy): Promise<void> {
  const tables = studyTables(cohort, result);
  const all = [...tables, studyDictionary(tables)];
  for (const table of all) {
    const access = OF_SINGLE_PATIENTS.has(table.name) ? PRIVATE : {};
    await writeFile(join(folder, `${table.name}.csv`), tidyCsv(table), access);
    await writeFile(join(folder, `${table.name}.parquet`), parquetOf(table), access);
  }
  await writeFile(join(folder, CSVW_FILE), json(csvwOf(all)));
}

const pageOf = (results: UnitResults, composed: ComposedUnit): Promise<string> =>
  composed.report === 'audit'
    ? auditPage(results, composed.result, draw)
    : studyPage(results, composed.result, draw);

/**
 * Writes a report of the unit alone: its page where pages are wanted, results.json, tables, and who is who in a file that
 * only its owner can read.
 */
export async function writeUnit(
  folder: string,
  whole: UnitResults,
  composed: ComposedUnit,
  settings: Settings,
  hasPages: boolean,
): Promise<void> {
  const { key, nameOf } = composed;
  const { results, remarks } = key ? withoutNames(whole, nameOf, settings) : { results: whole, remarks: [] };
  if (hasPages) await writeFile(join(folder, 'index.html'), await pageOf(results, composed));
  const period = composed.report === 'study' ? null : results.period;
  await writeFile(join(folder, 'results.json'), json({ ...results, period }));
  const tables = join(folder, 'tables');
  if (composed.report === 'audit') await writeAuditTables(tables, composed);
  else await writeStudyTables(tables, composed);
  if (key === null) return;
  await writeFile(join(folder, 'key.csv'), toCsv(['pseudonym', 'patient'], key), PRIVATE);
  const rows = remarks.map(({ file, remark }) => [file, remark]);
  await writeFile(join(tables, 'remarks.csv'), toCsv(['file', 'remark'], rows), PRIVATE);
}
