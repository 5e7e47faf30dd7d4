import type { UnitResults } from '../report/results-schema.js';
import { byPatientId, counted } from '../report/words.js';
import type { LogChoice } from './log-schema.js';
import type { Settings } from './settings.js';

const filesOf = (files: readonly string[]): string => counted(files.length, 'entry', 'entries');

/** Keys of a column that may be given by patient. */
const byPatient = (value: unknown): unknown =>
  typeof value === 'object' && value !== null
    ? `for ${counted(Object.keys(value).length, 'patient')}`
    : value;

/** What was set, without numbers of patients and names of files, which may hold them. */
function settingsWithoutNames(
  settings: UnitResults['settings'],
  { logs, exports, expected }: Settings,
): object {
  const columns = Object.entries((settings.columns ?? {}) as Record<string, unknown>).map(([key, choice]) => {
    if (typeof choice !== 'object' || choice === null || Array.isArray(choice)) return [key, choice];
    const { shiftSeconds, start, ...rest } = choice as Record<string, unknown>;
    return [
      key,
      {
        ...rest,
        ...(shiftSeconds === undefined ? {} : { shiftSeconds: byPatient(shiftSeconds) }),
        ...(start === undefined ? {} : { start: byPatient(start) }),
      },
    ];
  });
  const logsGiven = Object.entries(logs as Record<string, LogChoice>).map(([kind, { files, ...rest }]) => [
    kind,
    { ...rest, files: filesOf(files) },
  ]);
  const { patient, ...others } = settings;
  return {
    ...others,
    exports: filesOf(exports),
    expected: counted(expected.length, 'patient'),
    ...(patient === undefined ? {} : { patient: Object.keys(patient as object).join(' ') }),
    columns: Object.fromEntries(columns),
    ...Object.fromEntries(logsGiven),
  };
}

/** The order of real numbers would tell of them. */
const byName = (a: { readonly id: string }, b: { readonly id: string }): number => byPatientId(a.id, b.id);

/** A remark on reading that may name patients or their files, for a file that only its owner can read. */
export interface Remark {
  readonly file: string;
  readonly remark: string;
}

/** What may be passed on of results, and the remarks that may not. */
export function withoutNames(
  results: UnitResults,
  nameOf: (id: string) => string,
  settings: Settings,
): { results: UnitResults; remarks: Remark[] } {
  const { logs, noData, failed } = results;
  const places = new Map<string, number>();
  const placed = (kind: string): string => {
    places.set(kind, (places.get(kind) ?? 0) + 1);
    return `file ${places.get(kind)}`;
  };
  return {
    results: {
      ...results,
      settings: settingsWithoutNames(results.settings, settings) as UnitResults['settings'],
      logs: logs.map((log) => ({ ...log, file: placed(log.kind), warnings: [] })),
      noData: noData.map(({ id, why }) => ({ id: nameOf(id), why })).sort(byName),
      failed: failed
        .map(({ id, rowsRead }) => ({
          id: nameOf(id),
          rowsRead,
          why: 'not read: tables/setaside.csv says why',
        }))
        .sort(byName),
    },
    remarks: logs.flatMap(({ file, warnings }) => warnings.map((remark) => ({ file, remark }))),
  };
}
