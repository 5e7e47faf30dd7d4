import type { CleanSettings } from '../clean/clean.js';
import { RULES } from '../clean/rules.js';
import { type ColumnChoice, DEFAULT_MISSING, type IngestSettings } from '../ingest/settings.js';
import { Problem } from '../recording/problem.js';
import { ZoneClock } from '../recording/zone.js';
import { REPORTS, type ReportName } from '../report/report-name.js';
import type { EpisodeRule, EpisodeTimes } from '../segment/episodes.js';
import type { AuditSettings } from '../summarize/alarms/audit-settings.js';
import type { PeriodChoice } from '../summarize/period.js';
import type { StudySettings } from '../summarize/study/study-settings.js';
import type { SummarizeSettings } from '../summarize/summarize.js';
import { auditInWords, auditOf } from './audit-schema.js';
import { levellingOf } from './levelling-schema.js';
import { LOG_KINDS, type LogChoice, type LogKind, logChoice } from './log-schema.js';
import type { PipelineFile } from './pipeline-schema.js';
import { PRESETS } from './presets.js';
import { studyInWords, studyOf } from './study-schema.js';
import { writtenInstant } from './written-instant.js';

/** A pipeline file with every value filled in. */
export interface Settings {
  readonly name: string;
  readonly title: string;
  readonly report: ReportName;
  readonly exports: readonly string[];
  readonly ingest: IngestSettings;
  /** Logs and tables beside the exports, as far as they are given. */
  readonly logs: Readonly<Partial<Record<LogKind, LogChoice>>>;
  /** False where nobody named a time zone, so that UTC is only what is left. */
  readonly zoneIsGiven: boolean;
  readonly period: PeriodChoice;
  readonly expected: readonly string[];
  readonly clean: CleanSettings;
  readonly summarize: SummarizeSettings;
  /** Null where the report is none. */
  readonly audit: AuditSettings | null;
  /** Null where the report is none. */
  readonly study: StudySettings | null;
  /** The effective values in the words of the pipeline file, for results.json. */
  readonly effective: Readonly<Record<string, unknown>>;
}

/** Sustained for 5 min, and what does not end it. Common practice, no source. */
const EPISODE_TIMES: EpisodeTimes = { minSeconds: 300, dipSeconds: 30, bridgeSeconds: 120 };

const episodeRule = (
  { thresholdMmHg: threshold, ...times }: EpisodeTimes & { readonly thresholdMmHg: number },
  side: EpisodeRule['side'],
): EpisodeRule => ({ threshold, side, ...times });

const minutesOf = (clock: string): number => Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3, 5));

function periodOf(period: NonNullable<PipelineFile['period']>, zone: string): PeriodChoice {
  if (typeof period === 'string') return period;
  const clock = new ZoneClock(zone);

  const at = (key: 'from' | 'to'): number => {
    const utc = writtenInstant(period[key], clock);
    if (utc !== null) return utc;
    throw new Problem(
      `period.${key}: "${period[key]}" is no local time that can be read`,
      'Write it as "2031-02-11 19:00".',
    );
  };
  const chosen = { start: at('from'), end: at('to') };
  if (chosen.start < chosen.end) return chosen;
  throw new Problem('period: from is not before to', 'Swap the two.');
}

function cleanOf(clean: PipelineFile['clean']): CleanSettings {
  if (clean === 'none') return {};
  return Object.fromEntries(
    RULES.flatMap(({ name, parameters }) => {
      const choice = clean?.[name];
      return choice === 'off' ? [] : [[name, parameters.parse(choice ?? {}) as object]];
    }),
  );
}

const choiceOf = (column: string | ColumnChoice): ColumnChoice =>
  typeof column === 'string' ? { header: column } : column;

/**
 * Fills in what a pipeline file leaves out: preset, then defaults.
 *
 * @param fallbackName name of the report where the file gives none
 * @throws Problem on an unknown zone or an unreadable period
 */
export function settingsOf(file: PipelineFile, fallbackName: string): Settings {
  const preset = file.preset ?? 'adult';
  const values = PRESETS[preset];
  const timezone = file.timezone ?? 'UTC';
  const clock = new ZoneClock(timezone);
  const night = file.night ?? { from: '19:00', to: '07:00' };
  const name = file.name ?? fallbackName;
  const title = file.title ?? REPORTS[file.report].title;
  const exports = typeof file.exports === 'string' ? [file.exports] : file.exports;
  const { time, parameter, value, unit, missing = [], ...channels } = file.columns ?? {};
  const layout = Object.fromEntries(
    Object.entries({ time, parameter, value, unit }).filter(([, choice]) => choice !== undefined),
  );
  const columns = Object.fromEntries(
    Object.entries(channels).map(([kind, column]) => [kind, choiceOf(column)]),
  );
  const icp = { thresholdMmHg: values.icpThresholdMmHg, ...EPISODE_TIMES, ...file.segment?.icp };
  // One floor, unless the file names two.
  const cppFloorMmHg = file.summarize?.cppFloorMmHg ?? values.cppFloorMmHg;
  const cpp = { thresholdMmHg: cppFloorMmHg, ...EPISODE_TIMES, ...file.segment?.cpp };
  const summarize = {
    icpBandMmHg: [5, 15] as [number, number],
    cppFloorMmHg,
    cppEdgesMmHg: [...values.cppEdgesMmHg],
    zeroMovedMmHg: 5,
    ...file.summarize,
  };
  const { zeroMovedMmHg, ...targets } = summarize;
  const clean = cleanOf(file.clean);
  const logs = logsOf(file);
  const levelling = levellingOf(file.levelling, logs.care !== undefined);
  const period = file.period ?? REPORTS[file.report].period;
  if (file.audit !== undefined && file.report !== 'audit') {
    throw new Problem(
      `audit: says how alarms are audited, and the report is ${file.report}`,
      'Take it out, or say report: audit.',
    );
  }
  if (file.report === 'study') refuseForStudy(file);
  else if (file.study !== undefined) {
    throw new Problem(
      `study: says what an outcome study asks, and the report is ${file.report}`,
      'Take it out, or say report: study.',
    );
  }
  const rules = { icpEpisodes: episodeRule(icp, 'above'), cppEpisodes: episodeRule(cpp, 'below') };
  const audit = file.report === 'audit' ? auditOf(file.audit, rules, clock) : null;
  const study = file.report === 'study' ? studyOf(file.study, rules) : null;
  const allMissing = [...DEFAULT_MISSING, ...missing];
  return {
    name,
    title,
    report: file.report,
    exports,
    zoneIsGiven: file.timezone !== undefined,
    ingest: {
      zone: timezone,
      patient: file.patient,
      columns: { ...columns, ...layout },
      missing: allMissing,
      channels: REPORTS[file.report].channels,
    },
    logs,
    period: periodOf(period, timezone),
    expected: file.expected ?? [],
    clean,
    summarize: {
      targets: { icpThresholdMmHg: icp.thresholdMmHg, ...targets },
      ...rules,
      night: { fromMinutes: minutesOf(night.from), toMinutes: minutesOf(night.to) },
      agreement: { zeroMovedMmHg },
      levelling,
    },
    audit,
    study,
    effective: {
      name,
      title,
      exports,
      timezone,
      preset,
      period,
      night,
      ...(file.patient ? { patient: file.patient } : {}),
      expected: file.expected ?? [],
      columns: { ...layout, ...columns, missing: allMissing },
      ...logs,
      ...(levelling ? { levelling } : {}),
      clean: Object.keys(clean).length === 0 ? 'none' : { ...offRules(clean), ...clean },
      segment: { icp, cpp },
      summarize,
      ...(audit ? { audit: auditInWords(file.audit, audit) } : {}),
      ...(study ? { study: studyInWords(study) } : {}),
      report: file.report,
    },
  };
}

/** What a study needs, and what it does not understand. */
function refuseForStudy({ cohort, period }: PipelineFile): void {
  if (cohort === undefined) {
    throw new Problem(
      'an outcome study needs the table of patients with their outcomes',
      'Give it as cohort in the pipeline file, or with --set cohort=cohort.csv.',
    );
  }
  if (period !== undefined && period !== 'all') {
    throw new Problem(
      'period: a study has windows of its own, which begin with monitoring',
      'Take it out; study: {primaryHours: 72} says how long the first one is.',
    );
  }
}

const logsOf = (file: PipelineFile): Settings['logs'] =>
  Object.fromEntries(
    LOG_KINDS.flatMap((kind) => {
      const given = file[kind];
      return given === undefined ? [] : [[kind, logChoice(given)]];
    }),
  );

const offRules = (clean: CleanSettings): Record<string, 'off'> =>
  Object.fromEntries(RULES.filter(({ name }) => !clean[name]).map(({ name }) => [name, 'off']));
