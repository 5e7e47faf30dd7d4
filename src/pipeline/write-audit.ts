import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { auditPage } from '../report/audit/audit-page.js';
import type { Draw } from '../report/charts/spec.js';
import type { UnitResults } from '../report/results-schema.js';
import { auditTables, OF_SINGLE_EVENTS } from '../report/tables/audit-tables.js';
import { toCsv } from '../report/tables/csv.js';
import { dictionary, tidyCsv } from '../report/tables/tidy-table.js';
import type { ComposedAudit } from './compose-audit.js';
import type { Settings } from './settings.js';
import { withoutNames } from './without-names.js';

/** What may identify a patient is for its owner alone. */
const PRIVATE = { mode: 0o600 };

/** The drawing code takes long to load, and is not needed for figures alone. */
const draw: Draw = async (spec, key) => (await import('../report/charts/render.js')).renderSvg(spec, key);

/**
 * Writes the audit of a unit: its page where pages are wanted, results.json, tables, and who is who in a file that only
 * its owner can read. Where small counts are masked, tables of single alarms and episodes are for the owner alone too.
 *
 * @returns what was written as results.json
 */
export async function writeAudit(
  folder: string,
  composed: UnitResults,
  { result, input, nameOf, key }: ComposedAudit,
  settings: Settings,
  hasPages: boolean,
): Promise<void> {
  const { results, remarks } = key
    ? withoutNames(composed, nameOf, settings)
    : { results: composed, remarks: [] };
  if (hasPages) await writeFile(join(folder, 'index.html'), await auditPage(results, result, draw));
  await writeFile(join(folder, 'results.json'), `${JSON.stringify(results, null, 2)}\n`);
  const tables = auditTables(input, result);
  await writeFile(join(folder, 'tables', 'dictionary.csv'), dictionary(tables));
  for (const table of tables) {
    const isOpen = result.maskBelow === null || !OF_SINGLE_EVENTS.has(table.name);
    await writeFile(join(folder, 'tables', `${table.name}.csv`), tidyCsv(table), isOpen ? {} : PRIVATE);
  }
  if (key === null) return;
  await writeFile(join(folder, 'key.csv'), toCsv(['pseudonym', 'patient'], key), PRIVATE);
  const rows = remarks.map(({ file, remark }) => [file, remark]);
  await writeFile(join(folder, 'tables', 'remarks.csv'), toCsv(['file', 'remark'], rows), PRIVATE);
}
