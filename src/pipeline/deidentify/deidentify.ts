import { readdir, utimes, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { type ExportFile, findExports } from '../../ingest/find-exports.js';
import { type FileGroup, groupByPatient } from '../../ingest/group-files.js';
import type { CohortRow } from '../../ingest/tables/cohort.js';
import { EXPORTED_KINDS } from '../../recording/channel.js';
import { Problem } from '../../recording/problem.js';
import { ZoneClock } from '../../recording/zone.js';
import {
  elapsedTimes,
  type PatientTimes,
  shiftedTimes,
  type TimesMode,
} from '../../report/deidentify/shared-times.js';
import type { SharingAccount } from '../../report/deidentify/sharing-account.js';
import { sharingPage } from '../../report/deidentify/sharing-page.js';
import { sharingText } from '../../report/deidentify/sharing-text.js';
import { VERSION } from '../../version.js';
import { loadPipeline, type Pipeline, type PipelineOptions } from '../load-pipeline.js';
import { type Logs, readLogs } from '../read-logs.js';
import { type FolderSwap, swapFolder } from '../swap-folder.js';
import { writingProblem } from '../system-words.js';
import { Codes, drawShift } from './codes.js';
import { type HeldKey, holdKey, type KeyRow } from './key-file.js';
import { MARKER, PATIENTS, refuseMixed, refuseUnshared } from './shared-folder.js';
import { type SharedPatients, sharePatients, type Unshared } from './shared-patients.js';
import { keysLeftOut, sharedPipeline } from './shared-pipeline.js';
import { exportFolders } from './shared-places.js';
import { cohortRows, sharedTables } from './shared-tables.js';

/** How to make a set for sharing. */
export interface DeidentifyOptions extends PipelineOptions {
  /** The shared folder itself. */
  readonly out: string;
  /** The file that tells who is who; outside the shared folder, and never written over. */
  readonly key: string;
  /** `elapsed` where left out. */
  readonly times?: TimesMode | undefined;
  /** Dates are moved by up to so many days to either side; 365 where left out. Own convention. */
  readonly days?: number | undefined;
  readonly onGroup?: ((done: number, of: number) => void) | undefined;
  readonly signal?: AbortSignal | undefined;
}

/** What was written. */
export interface DeidentifyOutcome {
  readonly folder: string;
  readonly key: string;
  readonly account: SharingAccount;
  /** Whose exports could not be read; this names patients. */
  readonly failed: readonly Unshared[];
}

const MOST_DAYS = 365;

/**
 * Writes a set for sharing: exports, logs and the cohort table under random codes, without dates and free text, with a
 * pipeline file that reads it and a report of what was done. The key of the codes is written apart. The folder is
 * swapped in whole.
 *
 * @param given path of a pipeline file, or the name of one in `pipelines`
 * @throws Problem where nothing is written: identified files would be shared, a key would be written over, or nobody
 * could be read
 */
export async function deidentify(given: string, options: DeidentifyOptions): Promise<DeidentifyOutcome> {
  const mode = options.times ?? 'elapsed';
  if (options.days !== undefined && mode === 'elapsed') {
    throw new Problem(
      '--days says how far dates are moved, and times are elapsed',
      'Leave it out, or give --times shifted.',
    );
  }
  const pipeline = await loadPipeline(given, options);
  const [folder, keyPath] = [resolve(options.out), resolve(options.key)];
  const { settings, baseOf } = pipeline;
  const base = baseOf('exports');
  const logs = await readLogs(pipeline);
  const found = (await findExports(settings.exports, base)).filter(({ path }) => !logs.paths.has(path));
  await refuseMixed({
    out: folder,
    key: keyPath,
    exportFolders: exportFolders(settings.exports, base),
    inputs: [...found.map(({ path }) => path), ...logs.paths],
  });
  // Before the key is made, and again when the folder is swapped.
  await refuseUnshared(folder);
  const people = settings.logs.cohort ? await cohortRows(pipeline) : null;
  const key = await holdKey(keyPath);
  let swap: FolderSwap | null = null;
  try {
    swap = await swapFolder(folder, { refuse: refuseUnshared, inner: PATIENTS });
    const { groups, unfit } = groupByPatient(found, settings.ingest);
    const toWrite = { groups, unfit, logs, people, key, fresh: swap.fresh, mode };
    const done = await written(pipeline, toWrite, options);
    await swap.commit();
    return { folder, key: keyPath, ...done };
  } catch (error) {
    await swap?.discard().catch(() => {});
    await key.discard().catch(() => {});
    throw writingProblem(error, folder);
  }
}

interface ToWrite {
  readonly groups: readonly FileGroup[];
  readonly unfit: readonly ExportFile[];
  readonly logs: Logs;
  readonly people: readonly CohortRow[] | null;
  readonly key: HeldKey;
  readonly fresh: string;
  readonly mode: TimesMode;
}

/** When monitoring began of patients who stand in the cohort table alone, as far as the table says so. */
function withCohort(
  shared: ReadonlyMap<string, PatientTimes>,
  people: readonly CohortRow[],
  timesFrom: (startUtcMs: number) => PatientTimes,
): Map<string, PatientTimes> {
  const times = new Map(shared);
  for (const { id, monitoringFrom } of people) {
    if (!times.has(id) && monitoringFrom) times.set(id, timesFrom(monitoringFrom.utcMs));
  }
  return times;
}

/** Writes everything into the new folder, and the key. */
async function written(
  pipeline: Pipeline,
  { groups, unfit, logs, people, key, fresh, mode }: ToWrite,
  { days = MOST_DAYS, onGroup, signal }: DeidentifyOptions,
): Promise<{ account: SharingAccount; failed: readonly Unshared[] }> {
  const { settings } = pipeline;
  const clock = new ZoneClock(settings.ingest.zone);
  const codes = new Codes();
  const codeOf = (id: string): string => codes.of(id);
  const timesFrom = (startUtcMs: number): PatientTimes =>
    mode === 'elapsed' ? elapsedTimes(startUtcMs) : shiftedTimes(startUtcMs, drawShift(days), clock);
  const { ingest } = settings;
  const patients = await sharePatients({ groups, ingest, fresh, codeOf, timesFrom, onGroup, signal });
  refuseNobody(patients);
  const failed = [
    ...patients.failed,
    ...unfit.map(({ name }) => ({ id: name, why: 'the file name does not fit patient: {fileName: ...}' })),
  ];
  const ofCohort = withCohort(patients.times, people ?? [], timesFrom);
  const { files, tables, account } = sharedTables(
    pipeline,
    { ...logs, ...ofShared(logs, patients.times) },
    people,
    { codeOf, times: ofCohort },
    clock,
  );
  const cohortOnly = new Set((people ?? []).map(({ id }) => id).filter((id) => !patients.times.has(id)));
  const whole: SharingAccount = {
    version: VERSION,
    times: mode,
    mostDays: mode === 'shifted' ? days : null,
    patients: {
      shared: patients.times.size,
      failed: failed.length,
      cohortOnly: cohortOnly.size,
      waveforms: patients.waveforms,
    },
    rows: { read: patients.rowsRead, setAside: patients.rowsSetAside },
    columnsLeftOut: patients.columnsLeftOut,
    channels: EXPORTED_KINDS.flatMap((kind) => {
      const n = patients.channels.get(kind);
      return n === undefined ? [] : [{ kind, patients: n }];
    }),
    ...account,
    logRowsSetAside: logs.accounts.reduce(
      (sum, { setAside }) => sum + setAside.reduce((n, { rows }) => n + rows, 0),
      0,
    ),
    keysLeftOut: keysLeftOut(settings, mode),
  };
  const texts = new Map([
    ...files,
    ['pipeline.yaml', sharedPipeline(settings, mode, tables)],
    ['README.txt', sharingText(whole)],
    ['report.html', sharingPage(whole)],
    [MARKER, `${JSON.stringify({ deidentifiedSet: 1, times: mode, version: VERSION })}\n`],
  ]);
  for (const [name, text] of texts) await writeFile(join(fresh, name), text);
  await withoutDates(fresh);
  const ids = new Set([...patients.times.keys(), ...(people ?? []).map(({ id }) => id)]);
  await key.write(
    [...ids].map((id): KeyRow => ({ code: codeOf(id), patient: id, times: ofCohort.get(id) ?? null })),
    clock,
  );
  signal?.throwIfAborted();
  return { account: whole, failed };
}

/** A day that all files of a set are dated at: in the order in which they were written is that of the ids. Own convention. */
const FILE_DATE = new Date('2000-01-01T00:00:00Z');

async function withoutDates(folder: string): Promise<void> {
  for (const entry of await readdir(folder, { recursive: true })) {
    await utimes(join(folder, entry), FILE_DATE, FILE_DATE);
  }
}

/** Logs of patients with an export in the set: of others a log alone would go over, which nobody can hold against a signal. */
function ofShared(
  logs: Logs,
  shared: ReadonlyMap<string, unknown>,
): Pick<Logs, 'care' | 'alarms' | 'decisions' | 'targets'> {
  const only = <E>(log: ReadonlyMap<string, E>): Map<string, E> =>
    new Map([...log].filter(([id]) => shared.has(id)));
  return {
    care: logs.care && only(logs.care),
    alarms: logs.alarms && only(logs.alarms),
    decisions: only(logs.decisions),
    targets: only(logs.targets),
  };
}

/** @throws Problem where no export could be read */
function refuseNobody({ times, failed }: SharedPatients): void {
  if (times.size > 0) return;
  const why = failed.length === 0 ? '' : ` (patient ${failed[0].id}: ${failed[0].why})`;
  throw new Problem(
    `no patient could be read, so there is nothing to share${why}`,
    'Look at the exports with cistern inspect.',
  );
}
