import { rowsIn } from '../ingest/rows/set-aside.js';
import { Problem, shorten } from '../recording/problem.js';
import type { StudyResult } from '../report/results-study.js';
import { studyResult } from '../report/study/study-result.js';
import { byPatientId, counted, listed } from '../report/words.js';
import { type StudyCohort, type StudyMember, studyCohort } from '../summarize/study/study-cohort.js';
import { type AlikeId, alikeId } from './alike-ids.js';
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
      ({ id, problem, study, lacksIcp = false }): StudyMember => ({
        id,
        row: cohort.get(id) ?? null,
        // Nobody can be reported without ICP, and so it fails; in a flow it is a reason of its own.
        exports: problem === null || lacksIcp ? 'read' : 'failed',
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

const MOST_NAMED = 3;

const named = (ids: readonly string[]): string => {
  const shown = ids.slice(0, MOST_NAMED).map((id) => `"${shorten(id)}"`);
  return listed(ids.length > MOST_NAMED ? [...shown, `${ids.length - MOST_NAMED} more`] : shown);
};

/** What a person has to know of an id that is written almost like another, and what to do. */
const ALIKE: Readonly<Record<AlikeId['by'], readonly [what: string, fix: string]>> = {
  zeros: [
    '',
    'Did a spreadsheet drop the zeros in front? A study would count the patient as one without exports: write ids as the exports have them.',
  ],
  looks: [
    ', which looks the same and is written with other characters: a letter and its accent may be one character or two',
    'A study would count the patient as one without exports: copy the id from the name of the export, or from inside it, into the table.',
  ],
  spelling: [
    '',
    'Capitals, spaces and hyphens count. A study would count the patient as one without exports: write ids as the exports have them.',
  ],
};

/**
 * A study of those who happen to be written alike would be a study of others than was meant.
 *
 * @throws Problem where a row lacks exports that are there under almost the same id, and where nobody of the table has any
 */
function refuseMismatch(parts: readonly KeptPart[], { cohort }: Logs, accounts: readonly LogAccount[]): void {
  const exported = parts.filter(({ isStray }) => !isStray).map(({ id }) => id);
  const known = new Set(exported);
  const without = [...cohort.values()].filter(({ id }) => !known.has(id));
  const unclaimed = exported.filter((id) => !cohort.has(id)).sort(byPatientId);
  for (const { id, file, line } of without) {
    const other = alikeId(id, unclaimed);
    if (other === undefined) continue;
    const [what, fix] = ALIKE[other.by];
    throw new Problem(
      `the row is of patient "${shorten(id)}", and the exports are of "${shorten(other.id)}"${what}`,
      fix,
      { file, line },
    );
  }
  if (cohort.size === 0) {
    const files = accounts.flatMap(({ kind, file }) => (kind === 'cohort' ? [shorten(file)] : []));
    throw new Problem(
      `no row of the cohort table ${listed(files)} could be used, so that the study would have no patient`,
      'cistern inspect says of the table what is wrong with it.',
    );
  }
  if (without.length < cohort.size) return;
  throw new Problem(
    `none of the ${counted(cohort.size, 'patient')} of the cohort table has exports: the table names ${named([...cohort.keys()].sort(byPatientId))}, and the exports are of ${named(unclaimed)}`,
    "Write ids in the table as the exports have them, or say under patient in the pipeline file where the exports' ids stand, as patient: {fileName: '^(\\d+)'}.",
  );
}

/**
 * Puts the parts of all patients and the table of the cohort together; null where the report is no study.
 *
 * @throws Problem where table and exports do not name the same patients
 */
export function composeStudy(
  parts: readonly KeptPart[],
  logs: Logs,
  accounts: readonly LogAccount[],
  { study: settings, summarize, expected }: Settings,
): ComposedStudy | null {
  if (settings === null) return null;
  refuseMismatch(parts, logs, accounts);
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
