import { rowsIn } from '../ingest/rows/set-aside.js';
import type { StudyResult } from '../report/results-study.js';
import { studyResult } from '../report/study/study-result.js';
import { byPatientId } from '../report/words.js';
import { type StudyCohort, type StudyMember, studyCohort } from '../summarize/study/study-cohort.js';
import type { LogAccount } from './log-file.js';
import { pseudonymsOf } from './pseudonyms.js';
import type { Logs } from './read-logs.js';
import type { KeptPart } from './report-group.js';
import type { Settings } from './settings.js';

/** The study of a cohort, and who is who in it. */
export interface ComposedStudy {
  readonly report: 'study';
  readonly result: StudyResult;
  /** With the ids under which patients appear. */
  readonly cohort: StudyCohort;
  /** Those of whom there are features, as they appear. */
  readonly order: readonly string[];
  readonly nameOf: (id: string) => string;
  /** Pseudonym and patient, by pseudonym; null where patients appear under their numbers. */
  readonly key: readonly (readonly [pseudonym: string, patient: string])[] | null;
}

/** Lines of a file that belong to no patient are none. */
function membersOf(
  parts: readonly KeptPart[],
  { cohort }: Logs,
  nameOf: (id: string) => string,
): StudyMember[] {
  const named = parts.filter(({ isStray }) => !isStray);
  const known = new Set(named.map(({ id }) => id));
  const members = [
    ...named.map(
      ({ id, problem, study }): StudyMember => ({
        id,
        row: cohort.get(id) ?? null,
        exports: problem === null ? 'read' : 'failed',
        study,
      }),
    ),
    ...[...cohort.values()]
      .filter(({ id }) => !known.has(id))
      .map((row): StudyMember => ({ id: row.id, row, exports: 'none', study: null })),
  ];
  return members.map((member) => withName(member, nameOf(member.id))).sort((a, b) => byPatientId(a.id, b.id));
}

const withName = ({ row, study, ...member }: StudyMember, id: string): StudyMember => ({
  ...member,
  id,
  row: row && { ...row, id },
  study: study && { ...study, id, rows: study.rows.map((one) => ({ ...one, patient: id })) },
});

/** Puts the parts of all patients and the table of the cohort together; null where the report is no study. */
export function composeStudy(
  parts: readonly KeptPart[],
  logs: Logs,
  accounts: readonly LogAccount[],
  { study: settings, summarize, expected }: Settings,
): ComposedStudy | null {
  if (settings === null) return null;
  const ids = [...parts.map(({ id }) => id), ...logs.cohort.keys(), ...expected];
  const pseudonyms = settings.hasPseudonyms ? pseudonymsOf(ids) : null;
  const nameOf = (id: string): string => pseudonyms?.get(id) ?? id;
  const cohort = studyCohort({
    members: membersOf(parts, logs, nameOf),
    settings,
    icpEpisodes: summarize.icpEpisodes,
    rowsSetAside: accounts
      .filter(({ kind }) => kind === 'cohort')
      .reduce((sum, { setAside }) => sum + rowsIn(setAside), 0),
  });
  return {
    report: 'study',
    result: studyResult(cohort),
    cohort,
    order: cohort.members.flatMap(({ id, study }) => (study ? [id] : [])),
    nameOf,
    key: pseudonyms && [...pseudonyms].map(([id, pseudonym]) => [pseudonym, id] as const),
  };
}
