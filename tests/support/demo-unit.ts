import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { type DemoUnit, generateDemoUnit } from '../../fixtures/generator/demo-unit.js';
import type { Truth, TruthPatient } from '../../fixtures/generator/truth-types.js';
import { findExports } from '../../src/ingest/find-exports.js';
import { groupByPatient } from '../../src/ingest/group-files.js';
import { ingestGroup } from '../../src/ingest/ingest.js';
import { DEFAULT_MISSING, type IngestSettings } from '../../src/ingest/settings.js';
import { careEntries, type WrittenEntry } from '../../src/ingest/tables/care-entries.js';
import { type LoggedAlarm, loggedAlarms } from '../../src/ingest/tables/logged-alarms.js';
import { patientsOfRows } from '../../src/ingest/tables/patient-at.js';
import { readTable } from '../../src/ingest/tables/read-table.js';
import type { Recording } from '../../src/recording/recording.js';

/** A patient of the demo unit with what is true of him. */
export interface DemoPatient {
  readonly truth: TruthPatient;
  /** Without what the care log tells. */
  readonly recording: Recording;
  readonly care: readonly WrittenEntry[];
  readonly alarms: readonly LoggedAlarm[];
}

/** What the logs of the demo unit hold, by patient; each row has to be of use. */
async function readLogs(folder: string, logs: DemoUnit['logs'], zone: string) {
  for (const { name, text } of logs) await writeFile(join(folder, name), text);
  const [care, alarms] = [join(folder, 'care-log.csv'), join(folder, 'alarm-log.csv')];
  const how = { zone, missing: [] };
  const done = await readTable('care', { path: care, name: 'care-log.csv' }, how);
  const raised = await readTable('alarms', { path: alarms, name: 'alarm-log.csv' }, how);
  const unused = [...done.setAside, ...raised.setAside, ...done.warnings, ...raised.warnings];
  if (unused.length > 0) throw new Error(`a log of the demo unit: ${JSON.stringify(unused[0])}`);
  return {
    care: careEntries(patientsOfRows(done.rows, ({ startUtcMs }) => startUtcMs, null).rows),
    alarms: loggedAlarms(patientsOfRows(raised.rows, ({ onsetUtcMs }) => onsetUtcMs, null).rows),
  };
}

/** The demo unit, generated afresh and read as a user's exports would be. */
export async function demoUnit(): Promise<{ truth: Truth; patients: DemoPatient[] }> {
  const { files, logs, truth } = generateDemoUnit();
  const folder = await mkdtemp(join(tmpdir(), 'demo-unit-'));
  try {
    for (const { name, text } of files) {
      // Stored plain, whatever the name of the packed one: reading .gz is not what is tested with it.
      const path = join(folder, name.replace(/\.gz$/, ''));
      await mkdir(dirname(path), { recursive: true });
      await writeFile(path, text);
    }
    const settings: IngestSettings = {
      zone: truth.timezone,
      patient: { fileName: '^patient-(\\d+)' },
      columns: {},
      missing: DEFAULT_MISSING,
    };
    const { groups } = groupByPatient(await findExports([folder], '.'), settings);
    const { care, alarms } = await readLogs(folder, logs, truth.timezone);
    const patients: DemoPatient[] = [];
    for (const group of groups) {
      for (const { id, recording, problem } of await ingestGroup(group, settings)) {
        const patient = truth.patients.find((one) => one.id === id);
        if (!recording || !patient)
          throw new Error(`patient ${id} of the demo unit was not read: ${problem}`);
        patients.push({
          ...{ truth: patient, recording },
          ...{ care: care.get(id) ?? [], alarms: alarms.get(id) ?? [] },
        });
      }
    }
    return { truth, patients };
  } finally {
    await rm(folder, { recursive: true });
  }
}
