import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { clean } from '../../src/clean/clean.js';
import type { findExports } from '../../src/ingest/find-exports.js';
import type { groupByPatient } from '../../src/ingest/group-files.js';
import type { ingestGroup } from '../../src/ingest/ingest.js';
import type { loadPipeline } from '../../src/pipeline/load-pipeline.js';
import type { readLogs } from '../../src/pipeline/read-logs.js';
import type * as Grid from '../../src/summarize/study/intensity-grid.js';
import type { intensityMap, MapPatient } from '../../src/summarize/study/intensity-map.js';
import type { outcomeCode } from '../../src/summarize/study/outcome-code.js';
import type { studyRecording } from '../../src/summarize/study/study-recording.js';

/** CPU seconds of a process with one patient at a time, by stage, over several patients. */
export interface Stages {
  readonly patients: number;
  readonly rows: number;
  readonly ingest: number;
  readonly clean: number;
  readonly study: number;
  /** The same stage with optimal CPP; null where it was not asked for. */
  readonly studyWithOptimal: number | null;
}

/** What each patient brings to the map of ICP. */
export type Mapped = readonly MapPatient[];

interface Built extends Pick<typeof Grid, 'ICP_INTENSITIES_MMHG' | 'DURATIONS_MINUTES'> {
  readonly clean: typeof clean;
  readonly findExports: typeof findExports;
  readonly groupByPatient: typeof groupByPatient;
  readonly ingestGroup: typeof ingestGroup;
  readonly intensityMap: typeof intensityMap;
  readonly loadPipeline: typeof loadPipeline;
  readonly outcomeCode: typeof outcomeCode;
  readonly readLogs: typeof readLogs;
  readonly studyRecording: typeof studyRecording;
}

const MODULES = [
  ...['clean/clean', 'ingest/find-exports', 'ingest/group-files', 'ingest/ingest'],
  ...['pipeline/load-pipeline', 'pipeline/read-logs'],
  ...['intensity-grid', 'intensity-map', 'outcome-code', 'study-recording'].map(
    (name) => `summarize/study/${name}`,
  ),
];

/** The built program, as users run it. */
async function builtIn(dist: string): Promise<Built> {
  const parts = await Promise.all(
    MODULES.map((name) => import(pathToFileURL(join(resolve(dist), `${name}.js`)).href)),
  );
  return Object.assign({}, ...parts) as Built;
}

/** CPU seconds, which other processes of the machine change less than those on the wall. */
async function timed<T>(work: () => T | Promise<T>): Promise<{ result: T; seconds: number }> {
  const before = process.cpuUsage();
  const result = await work();
  const { user, system } = process.cpuUsage(before);
  return { result, seconds: (user + system) / 1e6 };
}

/**
 * Where the time of a study goes before patients are compared: reading, cleaning, features with grids, one patient after
 * the other. The first warms the program up and is not counted, unless there is no other.
 *
 * @param withOptimal features are computed once more, with optimal CPP
 */
export async function stagesOf(
  dist: string,
  pipelineFile: string,
  patients: number,
  withOptimal: boolean,
): Promise<{ stages: Stages; mapped: Mapped }> {
  const built = await builtIn(dist);
  const pipeline = await built.loadPipeline(pipelineFile, {});
  const { settings } = pipeline;
  const { study, summarize } = settings;
  if (study === null) throw new Error(`${pipelineFile} asks for no study`);
  const logs = await built.readLogs(pipeline);
  const files = await built.findExports(settings.exports, pipeline.baseOf('exports'));
  const groups = built.groupByPatient(files, settings.ingest).groups.slice(0, patients);
  const sums = { patients: 0, rows: 0, ingest: 0, clean: 0, study: 0, optimal: 0 };
  const mapped: MapPatient[] = [];
  for (const [place, group] of groups.entries()) {
    const read = await timed(() => built.ingestGroup(group, settings.ingest));
    const [{ id, recording, problem, rowsRead }] = read.result;
    if (recording === null) throw new Error(`${id} could not be read: ${problem}`);
    const row = logs.cohort.get(id) ?? null;
    const cleaned = await timed(() => built.clean(recording, settings.clean, []));
    const studied = (hasOptimal: boolean) =>
      timed(() => built.studyRecording(recording, cleaned.result, row, summarize, { ...study, hasOptimal }));
    const plain = await studied(false);
    const { icp } = plain.result.grids;
    if (icp !== null && row?.outcome) mapped.push({ ...icp, outcome: built.outcomeCode(row.outcome) });
    const optimal = withOptimal ? (await studied(true)).seconds : 0;
    if (place === 0 && groups.length > 1) continue;
    sums.patients++;
    sums.rows += rowsRead;
    sums.ingest += read.seconds;
    sums.clean += cleaned.seconds;
    sums.study += plain.seconds;
    sums.optimal += optimal;
  }
  const { optimal, ...plain } = sums;
  return { stages: { ...plain, studyWithOptimal: withOptimal ? optimal : null }, mapped };
}

/**
 * CPU seconds of the map of ICP alone and with as many draws of patients as asked; few patients stand in for as many as
 * are wanted, in turn.
 */
export async function mapSeconds(
  dist: string,
  mapped: Mapped,
  patients: number,
  resamples: number,
): Promise<{ map: number; draws: number }> {
  const { intensityMap: mapOf, ICP_INTENSITIES_MMHG, DURATIONS_MINUTES } = await builtIn(dist);
  const grid = { intensitiesMmHg: ICP_INTENSITIES_MMHG, durationsMinutes: DURATIONS_MINUTES };
  const all = Array.from({ length: patients }, (_, i) => mapped[i % mapped.length]);
  const once = (times: number) => timed(() => mapOf(grid, all, { resamples: times, seed: 1 }));
  await once(1);
  const map = (await once(1)).seconds;
  return { map, draws: Math.max(0, (await once(resamples)).seconds - map) };
}
