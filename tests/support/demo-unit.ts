import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { generateDemoUnit } from '../../fixtures/generator/demo-unit.js';
import type { Truth, TruthPatient } from '../../fixtures/generator/truth-types.js';
import { findExports } from '../../src/ingest/find-exports.js';
import { groupByPatient } from '../../src/ingest/group-files.js';
import { ingestGroup } from '../../src/ingest/ingest.js';
import { DEFAULT_MISSING, type IngestSettings } from '../../src/ingest/settings.js';
import type { Recording } from '../../src/recording/recording.js';

/** A patient of the demo unit with what is true of him. */
export interface DemoPatient {
  readonly truth: TruthPatient;
  readonly recording: Recording;
}

/** The demo unit, generated afresh and read as a user's exports would be. */
export async function demoUnit(): Promise<{ truth: Truth; patients: DemoPatient[] }> {
  const { files, truth } = generateDemoUnit();
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
    const patients: DemoPatient[] = [];
    for (const group of groups) {
      for (const { id, recording, problem } of await ingestGroup(group, settings)) {
        const patient = truth.patients.find((one) => one.id === id);
        if (!recording || !patient)
          throw new Error(`patient ${id} of the demo unit was not read: ${problem}`);
        patients.push({ truth: patient, recording });
      }
    }
    return { truth, patients };
  } finally {
    await rm(folder, { recursive: true });
  }
}
