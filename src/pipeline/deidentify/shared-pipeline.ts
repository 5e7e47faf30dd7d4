import { stringify } from 'yaml';
import { TIME_HEADERS } from '../../report/deidentify/shared-export.js';
import type { TimesMode } from '../../report/deidentify/shared-times.js';
import type { Settings } from '../settings.js';
import { PATIENTS } from './shared-folder.js';

/** A table of the set with the keys of its columns that hold times. */
export interface SharedTable {
  readonly files: readonly string[];
  readonly timeKeys: readonly string[];
}

/** The tables that the set has. */
export interface SharedTables {
  readonly care: SharedTable | null;
  readonly alarms: SharedTable | null;
  readonly cohort: SharedTable | null;
  readonly overrides: SharedTable | null;
  readonly targets: SharedTable | null;
}

const TABLES = ['care', 'alarms', 'cohort', 'overrides', 'targets'] as const;

/** Keys whose values are numbers and words of our own, and say nothing of anybody. */
const CARRIED = ['preset', 'night', 'levelling', 'clean', 'segment', 'summarize'] as const;

/** Keys that name people, places or dates, with what a report on the set lacks by them. */
export function keysLeftOut({ logs, expected, report, period, ingest }: Settings, mode: TimesMode): string[] {
  return [
    ...(logs.occupancy ? ['occupancy (who lay in which bed; it has been used)'] : []),
    ...(expected.length > 0 ? ['expected'] : []),
    ...(period === 'all' ? [] : ['period (all is written)']),
    ...(report === 'audit' ? ['audit (a morning report is written)'] : []),
    ...(ingest.zone === 'UTC' ? [] : ['timezone (UTC is written)']),
    ...(mode === 'elapsed' ? ['night (times of day are gone)'] : []),
  ];
}

/** Elapsed times of a table are read as seconds since 1970-01-01, which is where the set's times begin. */
const tableKey = ({ files, timeKeys }: SharedTable, mode: TimesMode): unknown =>
  mode === 'shifted' || timeKeys.length === 0
    ? { files }
    : { files, columns: Object.fromEntries(timeKeys.map((key) => [key, { form: 'epochSeconds' }])) };

/** Words of the pipeline file that say nothing of anybody; times of day beside them. */
const OWN_WORDS =
  /^(?:off|none|adult|paediatric|heart|ear|careLog|gose?|mortality|ageYears|gcsMotor|gcsTotal|pupilsReacting|over40|from40|pseudonyms|numbers|\d\d:\d\d)$/;

/** A setting as it is carried over. Numbers are; a text that is no word of ours would be a way out for what it names. */
function carriedValue(value: unknown): unknown {
  if (typeof value === 'string' && !OWN_WORDS.test(value)) {
    throw new Error('a setting holds free text, and would be shared');
  }
  if (Array.isArray(value)) return value.map(carriedValue);
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, carriedValue(inner)]));
}

/** What a study asks; features that nobody chose are left to be the usual ones of the thresholds that are carried. */
function studyKey({ effective, study }: Settings): object {
  const { features, ...rest } = effective.study as Record<string, unknown>;
  return study?.areChosenUsual ? rest : { ...rest, features };
}

/** The pipeline file by which our own program reads the shared set. */
export function sharedPipeline(settings: Settings, mode: TimesMode, tables: SharedTables): string {
  const { effective, report } = settings;
  const carried = CARRIED.filter(
    (key) => effective[key] !== undefined && !(key === 'night' && mode === 'elapsed'),
  );
  const time =
    mode === 'elapsed'
      ? { header: TIME_HEADERS.elapsed, form: 'elapsed', unit: 's', start: '1970-01-01 00:00' }
      : { header: TIME_HEADERS.shifted };
  const given = TABLES.flatMap((kind) => {
    const table = tables[kind];
    return table ? [[kind, tableKey(table, mode)] as const] : [];
  });
  const head =
    mode === 'elapsed'
      ? '# A de-identified set: all times are seconds since the start of monitoring, which stands as 1970-01-01 00:00.\n'
      : '# A de-identified set: dates are moved by a random number of days a patient. Not Safe Harbor.\n';
  return (
    head +
    stringify({
      name: 'deidentified',
      title: 'De-identified set',
      exports: PATIENTS,
      patient: { fileName: '^(P[0-9A-Z]+)' },
      timezone: 'UTC',
      period: 'all',
      columns: { time },
      ...Object.fromEntries(given),
      ...Object.fromEntries(carried.map((key) => [key, carriedValue(effective[key])])),
      ...(report === 'study' ? { study: carriedValue(studyKey(settings)) } : {}),
      report: report === 'audit' ? 'morning' : report,
    })
  );
}
