/** our-ingest.mjs EXPORTS PIPELINE DIST: reads the exports into recordings with our own ingest, in one thread. */
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

const [, , exports, pipeline, dist] = process.argv;
const part = (path) => import(pathToFileURL(join(dist, path)).href);
const { loadPipeline } = await part('pipeline/load-pipeline.js');
const { findExports } = await part('ingest/find-exports.js');
const { groupByPatient } = await part('ingest/group-files.js');
const { ingestGroup } = await part('ingest/ingest.js');

const { settings } = await loadPipeline(pipeline, { data: [exports] });
const files = await findExports([exports], '/');
let rows = 0;
for (const group of groupByPatient(files, settings.ingest).groups) {
  for (const { rowsRead } of await ingestGroup(group, settings.ingest)) rows += rowsRead;
}
console.log(rows);
