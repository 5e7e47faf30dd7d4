import { resolve } from 'node:path';
import { type ExportFile, findExports } from '../ingest/find-exports.js';
import { groupByPatient } from '../ingest/group-files.js';
import type { Interval } from '../recording/interval.js';
import { Problem } from '../recording/problem.js';
import { ZoneClock } from '../recording/zone.js';
import type { Results } from '../report/results-schema.js';
import { byPatientId } from '../report/words.js';
import { type ReportPeriod, resolvePeriod } from '../summarize/period.js';
import { VERSION } from '../version.js';
import { checkedLogs } from './check-logs.js';
import { composeResults, logResults } from './compose.js';
import { loadPipeline, type Pipeline, type PipelineOptions } from './load-pipeline.js';
import type { LogAccount } from './log-file.js';
import { type Logs, logsOfGroup, readLogs } from './read-logs.js';
import type { GroupTask, PatientPart } from './report-group.js';
import { type Progress, reportGroups } from './report-groups.js';
import type { Settings } from './settings.js';
import { swapFolder } from './swap-folder.js';
import { writeReport } from './write-report.js';

/** How to run a pipeline; what is left out follows the pipeline file. */
export interface RunOptions extends PipelineOptions {
  /** The report folder itself; `./reports/<name>` where left out. */
  readonly out?: string | undefined;
  readonly threads?: number | undefined;
  /** Stop at the first patient that fails, and write nothing. */
  readonly strict?: boolean | undefined;
  /** False: results.json and tables alone, which takes far less time. */
  readonly pages?: boolean | undefined;
  readonly onProgress?: Progress | undefined;
  readonly signal?: AbortSignal | undefined;
}

/** What a run wrote. */
export interface RunOutcome {
  readonly folder: string;
  readonly results: Results;
}

/** The whole of the data: from the first row of any patient to the last. */
function extentOf(parts: readonly PatientPart[]): Interval | null {
  const extents = parts.flatMap(({ extent }) => (extent ? [extent] : []));
  if (extents.length === 0) return null;
  return {
    start: Math.min(...extents.map(({ start }) => start)),
    end: Math.max(...extents.map(({ end }) => end)),
  };
}

/** The unit's period; where nobody has data, the one that the pipeline file names, or none that matters. */
function unitPeriod(parts: readonly PatientPart[], settings: Settings, clock: ZoneClock): ReportPeriod {
  const extent = extentOf(parts) ?? { start: 0, end: 0 };
  return resolvePeriod(settings.period, extent, settings.summarize.night, clock);
}

const samePeriod = (a: ReportPeriod | null, b: ReportPeriod): boolean =>
  a !== null && a.start === b.start && a.end === b.end;

/**
 * Runs a pipeline: reads the exports, reports each patient, and swaps the report folder in whole.
 *
 * @param given path of a pipeline file, or the name of one in `pipelines`
 * @throws Problem where nothing can be written; a bad export only fails its patient, unless `strict`
 */
export async function runPipeline(given: string, options: RunOptions = {}): Promise<RunOutcome> {
  const startedAt = new Date();
  const pipeline = await loadPipeline(given, options);
  const { settings } = pipeline;
  const clock = new ZoneClock(settings.ingest.zone);
  const logs = await readLogs(pipeline);
  const files = await exportsOf(pipeline, logs);
  const { groups, unfit } = groupByPatient(files, settings.ingest);
  const folder = resolve(options.out ?? `reports/${settings.name}`);
  const swap = await swapFolder(folder);
  try {
    const task = (group: GroupTask['group'], period: ReportPeriod | null): GroupTask => ({
      group,
      settings,
      logs: logsOfGroup(logs, group.id),
      logResults: logResults(logs.accounts),
      period,
      hasPages: options.pages ?? true,
    });
    const parts = [
      ...unfit.map(unfitPart),
      ...(await reportAll(
        groups.map((group) => task(group, null)),
        options,
      )),
    ];
    if (options.strict) parts.forEach(refuseFailed);
    const period = unitPeriod(parts, settings, clock);
    // Each patient was reported over the night that its own data suggest; nearly all fit the unit's. Where the whole
    // of the data is reported, each patient keeps its own.
    const isAstray = (part: PatientPart): boolean => part.report !== null && !samePeriod(part.period, period);
    const astray =
      period.word === 'period' && typeof settings.period === 'string'
        ? []
        : groups.filter((group) => parts.some((part) => holds(group, part) && isAstray(part)));
    const again = await reportAll(
      astray.map((group) => task(group, period)),
      options,
    );
    const redone = new Set(again.map(({ id }) => id));
    const all = [...parts.filter(({ id }) => !redone.has(id)), ...again].sort((a, b) =>
      byPatientId(a.id, b.id),
    );
    const accounts = checkedLogs(logs, all);
    const results = composeResults(all, accounts, period, settings, clock);
    const record = runRecord(startedAt, all, accounts, results, options);
    await writeReport(swap.fresh, results, all, accounts, settings, record, options.pages ?? true);
    options.signal?.throwIfAborted();
    await swap.commit();
    return { folder, results };
  } catch (error) {
    await swap.discard();
    throw error;
  }
}

/** The exports; a log that lies among them is none. */
async function exportsOf({ settings, baseOf }: Pipeline, { paths }: Logs): Promise<ExportFile[]> {
  const found = await findExports(settings.exports, baseOf('exports'));
  const files = found.filter(({ path }) => !paths.has(path));
  if (files.length > 0) return files;
  throw new Problem(
    `exports lead to nothing but ${found[0].name}, which is named as a log too`,
    'Look at exports in the pipeline file, or at --data.',
  );
}

const holds = (group: GroupTask['group'], part: PatientPart): boolean =>
  group.id === null || group.id === part.id;

const unfitPart = ({ name }: { name: string }): PatientPart => ({
  id: name,
  problem: new Problem(
    'its name does not fit patient: {fileName: ...}',
    'Mend the pattern, or leave the file out of exports.',
    {
      file: name,
    },
  ).message,
  rowsRead: 0,
  setAside: [],
  isStray: false,
  files: [],
  extent: null,
  channels: [],
  period: null,
  report: null,
});

function refuseFailed({ problem }: PatientPart): void {
  if (problem !== null) throw new Problem(`--strict: ${problem.replace(/\.$/, '')}`, 'Nothing was written.');
}

async function reportAll(tasks: GroupTask[], options: RunOptions): Promise<PatientPart[]> {
  let done = 0;
  return reportGroups(tasks, {
    threads: options.threads,
    signal: options.signal,
    onDone: () => options.onProgress?.(++done, tasks.length),
    onParts: (parts) => options.strict && parts.forEach(refuseFailed),
  });
}

/** What happened, for run.json: the only file beside PDFs that differs between runs on the same inputs. */
function runRecord(
  startedAt: Date,
  parts: readonly PatientPart[],
  logs: readonly LogAccount[],
  results: Results,
  options: RunOptions,
): object {
  return {
    program: { name: 'cistern', version: VERSION, node: process.version },
    startedAt: startedAt.toISOString(),
    durationSeconds: (Date.now() - startedAt.getTime()) / 1000,
    threads: options.threads ?? null,
    inputs: [...parts.flatMap(({ files }) => files), ...logs].map(({ file, bytes, sha256 }) => ({
      file,
      bytes,
      sha256,
    })),
    counts: results.counts,
  };
}
