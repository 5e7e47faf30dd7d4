import { access, writeFile } from 'node:fs/promises';
import { dirname, relative, resolve, sep } from 'node:path';
import { findExports } from '../ingest/find-exports.js';
import { DEFAULT_MISSING } from '../ingest/settings.js';
import { Problem } from '../recording/problem.js';
import type { Inspection } from '../report/inspect/inspection.js';
import { type FileKeys, readyPipeline } from '../report/inspect/ready-pipeline.js';
import { inspectFile } from './inspect-file.js';
import { loadPipeline, pipelineOf } from './load-pipeline.js';
import type { Settings } from './settings.js';

/** How to inspect files. */
export interface InspectOptions {
  /** A pipeline file whose columns, time zone and patient count. */
  readonly pipeline?: string | undefined;
  /** `dotted.key=YAML`, each. */
  readonly set?: readonly string[] | undefined;
  /** A pipeline file to write. */
  readonly write?: string | undefined;
}

async function settingsFor({ pipeline, set = [] }: InspectOptions): Promise<Settings> {
  if (pipeline !== undefined) return (await loadPipeline(pipeline, { set })).settings;
  return pipelineOf('exports: .\nreport: morning\n', 'inspect', { set });
}

/** The part of a pipeline file that `--pipeline` and `--set` gave. */
function givenKeys({ ingest, effective }: Settings): Record<string, unknown> {
  const { missing: _, ...columns } = (effective.columns ?? {}) as Record<string, unknown>;
  const listed = ingest.missing.slice(DEFAULT_MISSING.length);
  const all = { ...columns, ...(listed.length > 0 ? { missing: listed } : {}) };
  return {
    ...(ingest.patient ? { patient: ingest.patient } : {}),
    ...(Object.keys(all).length > 0 ? { columns: all } : {}),
  };
}

/** An inspection with the path of its file. */
interface Inspected {
  readonly path: string;
  readonly inspection: Inspection;
}

/** Exports and logs apart, as the pipeline file names them: what was given, and each log by its own path. */
function keysOf(entries: readonly string[], inspected: readonly Inspected[], folder: string): FileKeys {
  const of = (kind: string): string[] =>
    inspected.filter(({ inspection }) => inspection.kind === kind).map(({ path }) => path);
  const [care, alarms, occupancy, targets] = [of('care'), of('alarms'), of('occupancy'), of('targets')];
  const logs = new Set([...care, ...alarms, ...occupancy, ...targets]);
  const given = entries.map((entry) => resolve(entry));
  const exports = given.filter((path) => !logs.has(path));
  const written = (paths: readonly string[]): string[] =>
    paths.map((path) => relative(folder, path).split(sep).join('/') || '.');
  // Without exports there is nothing to run.
  if (exports.length === 0) return { exports: written(given) };
  return {
    exports: written(exports),
    ...(care.length > 0 && { care: written(care) }),
    ...(alarms.length > 0 && { alarms: written(alarms) }),
    ...(occupancy.length > 0 && { occupancy: written(occupancy) }),
    ...(targets.length > 0 && { targets: written(targets) }),
  };
}

async function writePipeline(
  path: string,
  entries: readonly string[],
  inspected: readonly Inspected[],
  settings: Settings,
): Promise<void> {
  const isThere = await access(path).then(
    () => true,
    () => false,
  );
  if (isThere) throw new Problem(`there is a file ${path} already`, 'Give --write another name.');
  const text = readyPipeline(
    inspected.map(({ inspection }) => inspection),
    {
      ...keysOf(entries, inspected, dirname(resolve(path))),
      zone: settings.ingest.zone,
      given: givenKeys(settings),
    },
  );
  try {
    await writeFile(path, text);
  } catch (error) {
    throw new Problem(
      `${path} cannot be written (${(error as NodeJS.ErrnoException).code})`,
      'Look at its folder.',
    );
  }
}

/**
 * Inspects files, folders or patterns, and writes a pipeline file for them where one is asked for.
 *
 * @throws Problem where an entry leads to no file, or the pipeline file cannot be written
 */
export async function inspectFiles(
  entries: readonly string[],
  options: InspectOptions,
): Promise<Inspection[]> {
  const settings = await settingsFor(options);
  const { channels: _, ...reading } = settings.ingest;
  const inspected: Inspected[] = [];
  for (const file of await findExports(entries, process.cwd(), 'Look at its name and folder.')) {
    const how = { ...reading, zoneIsGiven: settings.zoneIsGiven, logs: settings.logs };
    inspected.push({ path: file.path, inspection: await inspectFile(file, how) });
  }
  if (options.write !== undefined) await writePipeline(options.write, entries, inspected, settings);
  return inspected.map(({ inspection }) => inspection);
}
