/** `npm run validate:page`: writes the page of the committed validation report anew from its tables, as after a change of style. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { reportFiles } from '../validation/report-files.js';
import { rowsFromCsv } from '../validation/tables.js';

const folder = fileURLToPath(new URL('../../reports/demo/validation', import.meta.url));
const files = reportFiles(rowsFromCsv((path) => readFileSync(join(folder, path), 'utf8')));
for (const [path, text] of files) writeFileSync(join(folder, path), text);
