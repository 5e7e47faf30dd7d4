import { createWriteStream } from 'node:fs';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline as piped } from 'node:stream/promises';
import { createGzip } from 'node:zlib';
import type { FileGroup } from '../../ingest/group-files.js';
import { type Ingested, ingestGroup } from '../../ingest/ingest.js';
import type { IngestSettings } from '../../ingest/settings.js';
import type { ExportedKind } from '../../recording/channel.js';
import type { Recording } from '../../recording/recording.js';
import { sharedChannels, sharedExport } from '../../report/deidentify/shared-export.js';
import type { PatientTimes } from '../../report/deidentify/shared-times.js';
import { shiftsOfGroup } from '../clock-shifts.js';
import { PATIENTS, patientFile } from './shared-folder.js';

/** A patient who could not be shared, for the person at the keyboard: this names the patient. */
export interface Unshared {
  readonly id: string;
  readonly why: string;
}

/** What came of the exports. */
export interface SharedPatients {
  readonly times: ReadonlyMap<string, PatientTimes>;
  readonly failed: readonly Unshared[];
  readonly rowsRead: number;
  readonly rowsSetAside: number;
  readonly columnsLeftOut: number;
  readonly waveforms: number;
  readonly channels: ReadonlyMap<ExportedKind, number>;
}

/** What sharing patients depends on. */
export interface PatientsToShare {
  readonly groups: readonly FileGroup[];
  readonly ingest: IngestSettings;
  readonly fresh: string;
  readonly codeOf: (id: string) => string;
  readonly timesFrom: (startUtcMs: number) => PatientTimes;
  readonly signal?: AbortSignal | undefined;
  /** Told after each group of files. */
  readonly onGroup?: ((done: number, of: number) => void) | undefined;
}

/** One patient's file. The head of gzip holds neither a name nor a time: zlib leaves both empty for what is piped. */
const writePatient = (path: string, recording: Recording, times: PatientTimes): Promise<void> =>
  piped(
    Readable.from(sharedExport(recording, times)),
    createGzip(),
    createWriteStream(path, { flags: 'wx' }),
  );

const asideIn = ({ setAside }: Ingested): number => setAside.reduce((sum, { rows }) => sum + rows, 0);

/** Reads the exports patient by patient and writes each under its code; one that cannot be read fails alone. */
export async function sharePatients(to: PatientsToShare): Promise<SharedPatients> {
  const { groups, fresh, codeOf, timesFrom, signal, onGroup } = to;
  // All channels are wanted, whatever the report of the pipeline file looks at.
  const ingest = { ...to.ingest, channels: undefined };
  const times = new Map<string, PatientTimes>();
  const failed: Unshared[] = [];
  const channels = new Map<ExportedKind, number>();
  let [rowsRead, rowsSetAside, columnsLeftOut, waveforms, done] = [0, 0, 0, 0, 0];
  for (const group of groups) {
    signal?.throwIfAborted();
    for (const one of await ingestGroup(group, shiftsOfGroup(ingest, group.id))) {
      const { id, recording, problem } = one;
      rowsRead += one.rowsRead;
      rowsSetAside += asideIn(one);
      if (one.isStray) continue;
      if (recording === null) {
        failed.push({ id, why: problem ?? 'nothing could be read' });
        continue;
      }
      const own = timesFrom(recording.extent.start);
      times.set(id, own);
      await writePatient(join(fresh, PATIENTS, patientFile(codeOf(id))), recording, own);
      for (const { kind } of sharedChannels(recording)) {
        channels.set(kind as ExportedKind, (channels.get(kind as ExportedKind) ?? 0) + 1);
      }
      columnsLeftOut += one.files.reduce((sum, { leftAlone }) => sum + leftAlone.length, 0);
      if (recording.waveform) waveforms++;
    }
    onGroup?.(++done, groups.length);
  }
  return { times, failed, rowsRead, rowsSetAside, columnsLeftOut, waveforms, channels };
}
