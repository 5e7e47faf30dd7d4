import { clean } from '../clean/clean.js';
import { watchOf } from '../clean/watch.js';
import type { FileGroup } from '../ingest/group-files.js';
import { type FileAccount, type Ingested, ingestGroup } from '../ingest/ingest.js';
import type { RowSetAside } from '../ingest/rows/set-aside.js';
import type { ChannelKind } from '../recording/channel.js';
import type { Interval } from '../recording/interval.js';
import { type Recording, rawSignal } from '../recording/recording.js';
import { ZoneClock } from '../recording/zone.js';
import { bedsideOf } from '../report/bedside-of.js';
import type { Draw } from '../report/charts/spec.js';
import { cleaningNote } from '../report/cleaning-note.js';
import { drawPages } from '../report/patient-pages.js';
import type { PageFile, PageNames } from '../report/patient-report.js';
import { recordingResult } from '../report/recording-result.js';
import { type PatientReportName, REPORTS } from '../report/report-name.js';
import type { Results } from '../report/results-schema.js';
import { auditRecording } from '../summarize/alarms/audit-recording.js';
import type { PatientAudit } from '../summarize/alarms/patient-audit.js';
import { nightsIn } from '../summarize/calendar.js';
import { HOUR_MS } from '../summarize/hour.js';
import { ofCpp } from '../summarize/of-cpp.js';
import { summarizePerfusion } from '../summarize/perfusion/summarize-perfusion.js';
import { type ReportPeriod, resolvePeriod } from '../summarize/period.js';
import type { PatientStudy } from '../summarize/study/patient-study.js';
import { studyRecording } from '../summarize/study/study-recording.js';
import type { PatientStudySettings } from '../summarize/study/study-settings.js';
import { summarizeRecording } from '../summarize/summarize.js';
import { type KeptResult, type PackedResult, packed } from './kept-result.js';
import { pageNames } from './page-name.js';
import type { PatientLogs } from './read-logs.js';
import type { Settings } from './settings.js';

/** The settings that a patient's figures and page hang on; what else is set changes no patient's result. */
export interface PatientSettings
  extends Pick<Settings, 'report' | 'title' | 'ingest' | 'period' | 'clean' | 'summarize' | 'audit'> {
  /** Null where the report is none. */
  readonly study: PatientStudySettings | null;
}

/** Those of all settings, and no others. */
export const patientSettings = ({
  report,
  title,
  ingest,
  period,
  clean,
  summarize,
  audit,
  study,
}: Settings): PatientSettings => ({
  report,
  title,
  ingest,
  period,
  clean,
  summarize,
  audit,
  study: study && {
    primaryHours: study.primaryHours,
    levels: study.levels,
    hasOptimal: study.hasOptimal,
  },
});

/** A group of files to report, and the period where it is already known. */
export interface GroupTask {
  readonly group: FileGroup;
  readonly settings: PatientSettings;
  readonly logs: PatientLogs;
  /** For the page: what came of reading the logs, for all patients. */
  readonly logResults: Results['logs'];
  /** Null: the period that the patient's own data suggest. */
  readonly period: ReportPeriod | null;
  /** False: figures alone are wanted, and no pages. */
  readonly hasPages: boolean;
}

/** What a report needs of one patient; plain data, so that it can come from another thread. */
export interface PatientPart {
  readonly id: string;
  readonly problem: string | null;
  /** True for a problem that says nothing of the export and may be gone next time, such as a fault of the program. */
  readonly isPassing: boolean;
  readonly rowsRead: number;
  readonly setAside: readonly RowSetAside[];
  /** True for lines of a file that belong to no patient. */
  readonly isStray: boolean;
  /** True where the problem is that the files, which could be read, hold no ICP column. */
  readonly lacksIcp?: boolean;
  readonly files: readonly FileAccount[];
  /** From the first row to the last; null where the patient failed. */
  readonly extent: Interval | null;
  /** Those that were read; empty where the patient failed. */
  readonly channels: readonly ChannelKind[];
  /** The period that the report below is over. */
  readonly period: ReportPeriod | null;
  /** Null where the patient failed or has no ICP in the period; its pages where none are wanted. */
  readonly report: {
    readonly result: PackedResult;
    readonly pages: {
      /** With their names. */
      readonly files: readonly PageFile[];
      /** For the page of the unit. */
      readonly strip: string;
    } | null;
  } | null;
  /** Null where the report is none, or the patient failed or has no ICP in the period. */
  readonly audit: PatientAudit | null;
  /** Null where the report is none, or the patient failed or has no ICP. */
  readonly study: PatientStudy | null;
}

/** The same once its page and figures lie in files: those of many patients would fill the memory. */
export interface KeptPart extends Omit<PatientPart, 'report'> {
  readonly report: {
    readonly result: KeptResult;
    readonly pages: { readonly names: readonly string[]; readonly strip: string } | null;
  } | null;
}

/** The form of a period in results.json. */
export const periodResult = (period: ReportPeriod, clock: ZoneClock): Results['period'] => ({
  start: clock.format(period.start),
  end: clock.format(period.end),
  word: period.word,
  timezone: clock.zone,
  why: period.why,
});

/** Reads, cleans, segments, summarizes and draws the patients of one group of files. */
export async function reportGroup(task: GroupTask, draw: Draw): Promise<PatientPart[]> {
  const { group, settings, logs, period } = task;
  const clock = new ZoneClock(settings.ingest.zone);
  const parts: PatientPart[] = [];
  for (const ingested of await ingestGroup(group, settings.ingest, undefined, watchOf(settings.clean))) {
    const { id, problem, rowsRead, setAside, files, isStray, lacksIcp = false } = ingested;
    const recording = ingested.recording && withCare(ingested.recording, logs);
    const extent = recording && Number.isFinite(recording.extent.start) ? recording.extent : null;
    const own = extent && (period ?? resolvePeriod(settings.period, extent, settings.summarize.night, clock));
    const done = recording && own ? await attempted(ingested, recording, own, task, clock, draw) : NO_REPORT;
    if ('fault' in done) {
      parts.push(faultyPart(ingested, done.fault));
      continue;
    }
    const channels = Object.keys(recording?.channels ?? {}) as ChannelKind[];
    const rest = { extent, channels, period: own, lacksIcp, ...done };
    parts.push({ id, problem, isPassing: false, rowsRead, setAside, files, isStray, ...rest });
  }
  return parts;
}

/** A patient whose report failed: all rows are set aside with that as the reason. */
function faultyPart({ id, rowsRead, files, isStray }: Ingested, fault: string): PatientPart {
  const reason = `all ${rowsRead} rows: the patient failed`;
  const setAside: RowSetAside[] = [{ file: files[0].file, line: 1, rows: rowsRead, kind: 'failed', reason }];
  const none = { extent: null, channels: [], period: null, ...NO_REPORT };
  return { id, problem: fault, isPassing: true, rowsRead, setAside, files, isStray, ...none };
}

/** The recording with what the care log says of its patient; a log without a word of it is not the same as no log. */
const withCare = (recording: Recording, { care }: PatientLogs): Recording =>
  care === null ? recording : { ...recording, care: care.get(recording.id) ?? [] };

/** What a report makes of a patient. */
type Reported = Pick<PatientPart, 'report' | 'audit' | 'study'>;

const NO_REPORT: Reported = { report: null, audit: null, study: null };

/** A patient's figures and page, audit, or part of a study; a fault of the program fails this patient, and no other. */
async function attempted(
  ingested: Ingested,
  recording: Recording,
  period: ReportPeriod,
  task: GroupTask,
  clock: ZoneClock,
  draw: Draw,
): Promise<Reported | { readonly fault: string }> {
  const { report } = task.settings;
  try {
    if (!hasIcpIn(recording, period)) return NO_REPORT;
    if (report === 'audit') return { ...NO_REPORT, audit: auditPatient(recording, period, task, clock) };
    if (report === 'study') return { ...NO_REPORT, study: studyPatient(recording, task) };
    return {
      ...NO_REPORT,
      report: await reportRecording(ingested, recording, period, task, report, clock, draw),
    };
  } catch (error) {
    const { message } = error instanceof Error ? error : new Error(String(error));
    return {
      fault: `a fault of the program (${message}); tell its developers, with the export if it may leave`,
    };
  }
}

/** All that charts of a patient may show: the period, and episodes with what stands around them. */
const drawnExtent = (extent: Interval, period: Interval): Interval => ({
  start: Math.min(extent.start, period.start) - HOUR_MS,
  end: Math.max(extent.end, period.end) + HOUR_MS,
});

/** The names of a patient's pages in a report. */
function namesFor(report: PatientReportName, id: string): PageNames {
  const names = pageNames(id);
  return REPORTS[report].hasDetailPage ? names : { ...names, detail: null };
}

const hasIcpIn = (recording: Recording, period: Interval): boolean =>
  rawSignal(recording, 'icp').times.some((t) => t >= period.start && t <= period.end);

/** What a person decided on channels that the recording holds. */
const decisionsOn = (recording: Recording, { decisions }: PatientLogs) =>
  (decisions.get(recording.id) ?? []).filter(({ channel }) => recording.channels[channel]);

/** One patient's alarms, episodes and responses. */
function auditPatient(
  recording: Recording,
  period: ReportPeriod,
  { settings, logs }: GroupTask,
  clock: ZoneClock,
): PatientAudit {
  const { id } = recording;
  const { alarms, care, targets, deaths, alarmsCover, careCover } = logs;
  const { hasAcknowledgements, alarmedChannels } = logs;
  if (settings.audit === null) throw new Error('an audit needs its settings');
  return auditRecording(
    recording,
    clean(recording, settings.clean, decisionsOn(recording, logs)),
    {
      alarms: alarms && (alarms.get(id) ?? []),
      care: care && (care.get(id) ?? []),
      targets: targets.get(id) ?? [],
      diedAt: deaths.get(id) ?? null,
      ...{ alarmsCover, careCover, hasAcknowledgements, alarmedChannels },
    },
    settings.summarize,
    settings.audit,
    period,
    clock,
  );
}

/** What one patient brings to a study. */
function studyPatient(recording: Recording, { settings, logs }: GroupTask): PatientStudy {
  if (settings.study === null) throw new Error('a study needs its settings');
  return studyRecording(
    recording,
    clean(recording, settings.clean, decisionsOn(recording, logs)),
    logs.studied.get(recording.id) ?? null,
    settings.summarize,
    settings.study,
  );
}

/** One patient's figures and page. */
async function reportRecording(
  ingested: Ingested,
  recording: Recording,
  period: ReportPeriod,
  { settings, logs, logResults, hasPages }: GroupTask,
  report: PatientReportName,
  clock: ZoneClock,
  draw: Draw,
): Promise<PatientPart['report']> {
  const { targets, icpEpisodes, night, levelling } = settings.summarize;
  const cleaning = clean(recording, settings.clean, decisionsOn(recording, logs));
  const summary = summarizeRecording(recording, cleaning, settings.summarize, period, clock);
  const perfusion = summarizePerfusion(recording, summary.signals, {
    period,
    // A morning has its hours on its own page; in results.json they would be most of perfusion.
    hours: report === 'perfusion' ? summary.hours : [],
    targets,
    hasOptimal: REPORTS[report].hasOptimalCpp,
  });
  const care = logs.care && (logs.care.get(recording.id) ?? []);
  const alarms = logs.alarms && (logs.alarms.get(recording.id) ?? []);
  const bedside = bedsideOf(alarms, care, recording);
  const names = hasPages ? namesFor(report, recording.id) : null;
  const result = recordingResult({
    ingested,
    recording,
    care,
    bedside,
    cleaning,
    summary,
    perfusion,
    period,
    clock,
    targets,
    levelling,
    ofCpp: ofCpp(
      recording,
      cleaning,
      summary,
      settings.summarize,
      logs.targets.get(recording.id) ?? [],
      period,
    ),
    report,
    pages: names,
    cleaningNote: cleaningNote(settings.clean),
  });
  if (names === null) return { result: packed(result), pages: null };
  const page = {
    result,
    logs: logResults,
    cleaningNote: cleaningNote(settings.clean),
    period: periodResult(period, clock),
    title: settings.title,
    targets,
    episodeMinutes: icpEpisodes.minSeconds / 60,
  };
  const from = {
    recording,
    marks: cleaning.marks,
    summary,
    period,
    clock,
    targets,
    nights: nightsIn(drawnExtent(recording.extent, period), night, clock),
    bedside,
    perfusion,
  };
  const pages = await drawPages(report, { names, page, from }, draw);
  return { result: packed(result), pages };
}
