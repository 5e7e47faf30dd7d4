import { readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join, resolve } from 'node:path';
import { ZoneClock } from '../recording/zone.js';
import type { UnitResults, WrittenResults } from '../report/results-schema.js';
import { checkedLogs } from './check-logs.js';
import { idleShifts } from './clock-shifts.js';
import { composeResults } from './compose.js';
import { composeUnit } from './compose-unit.js';
import { Crew } from './crew.js';
import { findInputs, type Inputs } from './find-inputs.js';
import { lackingProblem } from './lacking.js';
import { loadPipeline, type Pipeline, type PipelineOptions } from './load-pipeline.js';
import { mergingOf, mergingProblem } from './merging.js';
import type { Paper } from './print/paper.js';
import type { Printer } from './print/print-page.js';
import { printPages, type Unprinted, unprintedWarnings } from './print/print-pages.js';
import { printerFor } from './print/printer-for.js';
import { newToken } from './process-token.js';
import { programIdentity } from './program-identity.js';
import { replacedWarning, reportIn } from './replaced-report.js';
import { reportPatients } from './report-patients.js';
import { openedMs, openStore, type ResultStore, storeFolder, tidyStore } from './result-store.js';
import type { RunEvent } from './run-event.js';
import { runRecord } from './run-record.js';
import { swapFolder } from './swap-folder.js';
import { systemWords, writingProblem } from './system-words.js';
import { type PatientCounts, Tally } from './tally.js';

/** How to run a pipeline; what is left out follows the pipeline file. */
export interface RunOptions extends PipelineOptions {
  /** The report folder itself; `./reports/<name>` where left out. */
  readonly out?: string | undefined;
  readonly threads?: number | undefined;
  /** Stop at the first patient that fails, and write nothing. */
  readonly strict?: boolean | undefined;
  /** False: results.json and tables alone, which takes far less time. */
  readonly pages?: boolean | undefined;
  /** Print each page as PDF beside it as well, with the Chromium that is on PATH or that CISTERN_CHROMIUM names. */
  readonly pdf?: boolean | undefined;
  /** Of the PDFs; A4 where left out. */
  readonly paper?: Paper | undefined;
  /** A page that takes longer to print is given up; 60 s where left out. */
  readonly printSeconds?: number | undefined;
  /** Read every patient anew, and replace what earlier runs have stored. */
  readonly fresh?: boolean | undefined;
  /** Patients are taken from the store alone, into which shards have put them; a Problem says who is lacking. */
  readonly merge?: boolean | undefined;
  /** Told while the run works. */
  readonly onEvent?: ((event: RunEvent) => void) | undefined;
  readonly signal?: AbortSignal | undefined;
}

/** What a run wrote. */
export interface RunOutcome {
  readonly folder: string;
  /** results.json but for the lists of each recording. */
  readonly unit: UnitResults;
  /** All of results.json: read from the folder when it is asked for, since hundreds of patients fill the memory. */
  readonly results: WrittenResults;
  /** How many patients were read, and how many came as an earlier run had stored them. */
  readonly patients: PatientCounts;
  /** Pages that were to be printed and could not be. */
  readonly unprinted: readonly Unprinted[];
  /** What somebody should know of the run itself, in sentences. */
  readonly warnings: readonly string[];
}

/**
 * Runs a pipeline: reads the exports, reports each patient, and swaps the report folder in whole. What came of each
 * patient is stored beside the folder, and taken from there by the next run where nothing has changed.
 *
 * @param given path of a pipeline file, or the name of one in `pipelines`
 * @throws Problem where nothing can be written; a bad export only fails its patient, unless `strict`
 */
export async function runPipeline(given: string, options: RunOptions = {}): Promise<RunOutcome> {
  const startedAt = new Date();
  const printer = await printerFor(options);
  const pipeline = await loadPipeline(given, options);
  const { settings } = pipeline;
  const inputs = await findInputs(pipeline);
  const folder = resolve(options.out ?? `reports/${settings.name}`);
  const crew = Crew.for(inputs.groups.length, options.threads);
  try {
    return await reportAs(given, pipeline, { ...inputs, folder, crew, startedAt, printer }, options);
  } catch (error) {
    throw options.merge ? mergingProblem(error) : error;
  } finally {
    await crew?.end();
  }
}

/** What a run has found out before it reports anybody. */
interface Found extends Inputs {
  readonly folder: string;
  readonly crew: Crew | null;
  /** Null: no PDFs are wanted. */
  readonly printer: Printer | null;
  readonly startedAt: Date;
}

async function reportAs(
  given: string,
  { settings }: Pipeline,
  { groups, unfit, logs, folder, crew, startedAt, printer }: Found,
  options: RunOptions,
): Promise<RunOutcome> {
  const program = await programIdentity();
  const swap = await swapFolder(folder);
  const before = await reportIn(swap.folder);
  const { threads, strict, signal, fresh: isFresh = false, pages: hasPages = true } = options;
  const tally = new Tally((event) => options.onEvent?.(event));
  const store: ResultStore = { folder: storeFolder(swap.folder), token: newToken(), program, isFresh };
  const unusable = await openStore(store);
  const openedAt = await openedMs(store);
  let needed: ReadonlySet<string> | null = null;
  try {
    const merging = options.merge ? await mergingOf(store, unusable, { settings, logs, hasPages }) : null;
    const reporting = reportPatients({
      isStoredOnly: merging?.isStoredOnly,
      ...{ groups, unfit, settings, logs, hasPages, tally, crew, strict, signal },
      fresh: swap.fresh,
      store: unusable === null ? store : null,
    });
    // What writes the tables takes a while to load, and this thread waits for the others now.
    const writing = import('./write-report.js');
    const { parts, period, lacking } = await reporting;
    if (merging && lacking.length > 0) {
      throw await lackingProblem(given, options, { ...merging, groups, lacking });
    }
    // The threads are done, and their memory is better used for writing.
    await crew?.end();
    const accounts = checkedLogs(logs, parts);
    const clock = new ZoneClock(settings.ingest.zone);
    const composed = composeUnit(parts, logs, accounts, period, settings, clock);
    const unit = composeResults(parts, accounts, period, settings, clock, composed);
    const patients = tally.counts(parts);
    const record = runRecord(
      startedAt,
      parts,
      accounts,
      unit,
      patients,
      threads ?? null,
      printer?.paper ?? null,
    );
    const { writeReport } = await writing;
    await writeReport(swap.fresh, unit, parts, accounts, settings, record, hasPages, composed);
    const atOnce = Math.min(threads ?? Number.POSITIVE_INFINITY, availableParallelism());
    const unprinted = printer
      ? await printPages(swap.fresh, { ...printer, atOnce, onEvent: options.onEvent })
      : [];
    signal?.throwIfAborted();
    await swap.commit();
    needed = tally.needed;
    const seconds = (Date.now() - startedAt.getTime()) / 1000;
    const failed = unit.failed.length;
    options.onEvent?.({ event: 'written', folder, ...patients, failed, seconds });
    const warnings = [
      ...replacedWarning(folder, before, settings.report),
      ...idleShifts(
        settings.ingest.columns,
        parts.map(({ id }) => id),
      ),
      ...unprintedWarnings(unprinted),
      ...unkeptWarning(store.folder, unusable ?? tally.unkept),
    ];
    return {
      ...{ folder, unit, patients, unprinted, warnings },
      get results() {
        return JSON.parse(readFileSync(join(folder, 'results.json'), 'utf8')) as WrittenResults;
      },
    };
  } catch (error) {
    // What stopped the run is worth more to a person than what keeps it from cleaning up; the next run does that.
    await swap.discard().catch(() => {});
    throw writingProblem(error, folder);
  } finally {
    if (unusable === null) await tidyStore(store, needed, openedAt).catch(() => {});
  }
}

const unkeptWarning = (folder: string, why: string | null): string[] =>
  why === null
    ? []
    : [`Not all could be kept for the next run in ${folder} (${systemWords(why)}); it will read these anew.`];
