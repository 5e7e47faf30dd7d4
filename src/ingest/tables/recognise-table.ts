import { channelNamed } from '../columns/channel-names.js';
import { headerWords } from '../columns/header-words.js';
import { saysElapsed, saysTime, saysValue } from '../columns/layout-words.js';
import type { ExportFile } from '../find-exports.js';
import { findLayout } from '../text/layout.js';
import { fileBytes } from '../text/read-bytes.js';
import { readRecords } from '../text/read-records.js';
import { ALARM_LOG } from './alarm-log.js';
import { CARE_LOG } from './care-log.js';
import { COHORT_TABLE } from './cohort.js';
import { TARGET_TABLE } from './cpp-targets.js';
import { keysIn, tableScore } from './name-columns.js';
import { OCCUPANCY_TABLE } from './occupancy.js';
import { scaleNamed } from './outcome.js';

/** The kinds of logs and tables, by their key in the pipeline file. */
export const TABLES = {
  alarms: ALARM_LOG,
  care: CARE_LOG,
  occupancy: OCCUPANCY_TABLE,
  cohort: COHORT_TABLE,
  targets: TARGET_TABLE,
} as const;
export type TableKind = keyof typeof TABLES;
export const TABLE_KINDS = Object.keys(TABLES) as TableKind[];

/** What only a table of patients says of them. */
const OF_PATIENTS = ['age', 'gcsTotal', 'gcsMotor', 'outcome'];

/** How many keys of a cohort that are no mere times of a stay a header has to hold. */
const LEAST_COHORT_KEYS = 2;

/** True where the header is that of an export: a time, and channels or values. */
function isExport(names: readonly string[]): boolean {
  const hasTime = names.some((name) => saysTime(name) || saysElapsed(name));
  return hasTime && names.some((name) => channelNamed(name) !== null);
}

/**
 * Which of the logs and tables a header is that of.
 *
 * @returns null where it is an export's, or none that is known
 */
export function recogniseTable(headers: readonly string[]): TableKind | null {
  const names = headers.map((header) => headerWords(header).name);
  if (isExport(names)) return null;
  const fits = (kind: TableKind): boolean => tableScore(headers, TABLES[kind]) >= 100;
  const holds = (kind: TableKind, ...keys: string[]): boolean => {
    const found = keysIn(headers, TABLES[kind]);
    return keys.some((key) => found.includes(key));
  };
  const cohort = keysIn(headers, COHORT_TABLE);
  const measured = cohort.filter((key) => !['id', 'injury', 'admission'].includes(key));
  const saysEnough = measured.length >= LEAST_COHORT_KEYS && OF_PATIENTS.some((key) => cohort.includes(key));
  // A scale of outcome stands in no other table.
  if (fits('cohort') && (saysEnough || names.some((name) => scaleNamed(name) !== null))) return 'cohort';
  // A parameter with its values is an export with a row a value, unless it says what only alarms have.
  const sign = names.some(saysValue) ? ['priority', 'acknowledged'] : ['priority', 'acknowledged', 'limit'];
  const saysAlarm = names.some((name) => /\balarms?\b/.test(name));
  if (fits('alarms') && (holds('alarms', ...sign) || saysAlarm)) return 'alarms';
  if (fits('care') && holds('care', 'kind', 'drug')) return 'care';
  if (fits('occupancy')) return 'occupancy';
  return fits('targets') ? 'targets' : null;
}

/** The best that any kind makes of a row of cells. */
const anyScore = (cells: readonly string[]): number =>
  recogniseTable(cells.map((cell) => cell.trim())) === null
    ? 0
    : Math.max(...TABLE_KINDS.map((kind) => tableScore(cells, TABLES[kind])));

/** True for a header that names a patient and a target and nothing else that is known: of what, it does not say. */
const seemsTargets = (headers: readonly string[]): boolean => {
  const names = headers.map((header) => headerWords(header).name);
  return !isExport(names) && keysIn(headers, TARGET_TABLE).includes('patient') && names.some(saysTarget);
};

const saysTarget = (name: string): boolean => /\b(?:targets?|goals?|aims?)\b/.test(name);

/**
 * Which of the logs and tables a file is, from its first lines.
 *
 * @param guesses true where a guess will do, so that a person is told what is missing
 * @throws Problem where the file cannot be read
 */
export async function recogniseTableFile(file: ExportFile, guesses = false): Promise<TableKind | null> {
  let kind: TableKind | null = null;
  await readRecords(file.open ?? fileBytes(file.path), (head) => {
    const { delimiter, headers } = findLayout(head, anyScore);
    kind = recogniseTable(headers) ?? (guesses && seemsTargets(headers) ? 'targets' : null);
    return { delimiter, visit: () => false };
  });
  return kind;
}
