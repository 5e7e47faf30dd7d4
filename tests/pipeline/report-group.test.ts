import { join } from 'node:path';
import { expect, it } from 'vitest';
import { findExports } from '../../src/ingest/find-exports.js';
import { groupByPatient } from '../../src/ingest/group-files.js';
import { loadPipeline } from '../../src/pipeline/load-pipeline.js';
import { reportGroup } from '../../src/pipeline/report-group.js';
import { folderWith, nightCsv } from '../support/cistern.js';
import { NO_LOGS } from '../support/no-logs.js';

it('fails the patient whose report meets a fault of the program, with all rows accounted for', async () => {
  const csv = nightCsv((minute) => 12 + (minute % 2));
  const yaml = 'exports: a.csv\ntimezone: UTC\nreport: morning\n';
  const folder = folderWith({ 'unit.yaml': yaml, 'a.csv': csv });
  const { settings } = await loadPipeline(join(folder, 'unit.yaml'), {});
  const { groups } = groupByPatient(await findExports(settings.exports, folder), settings.ingest);
  const task = { group: groups[0], settings, logs: NO_LOGS, logResults: [], period: null, hasPages: true };
  const parts = await reportGroup(task, () => Promise.reject(new Error('no ink')));
  expect(parts).toMatchObject([
    {
      id: 'a',
      problem: 'a fault of the program (no ink); tell its developers, with the export if it may leave',
      rowsRead: 721,
      setAside: [{ file: 'a.csv', rows: 721, kind: 'failed', reason: 'all 721 rows: the patient failed' }],
      extent: null,
      report: null,
    },
  ]);
});
