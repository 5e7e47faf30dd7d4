/** Writes the JSON Schemas that editors and readers of results.json use: `npm run schemas`. */
import { writeFileSync } from 'node:fs';
import { schemaFiles } from './schema-files.js';

for (const { url, text } of schemaFiles()) writeFileSync(url, text);
