import type { FileGroup } from '../ingest/group-files.js';
import { Problem } from '../recording/problem.js';
import { ZoneClock } from '../recording/zone.js';
import { byPatientId } from '../report/words.js';
import type { ReportPeriod } from '../summarize/period.js';
import type { Crew } from './crew.js';
import { failedPart } from './failed-group.js';
import { dropPages, putPatient } from './page-folder.js';
import { patientTasks } from './patient-tasks.js';
import type { Logs } from './read-logs.js';
import type { KeptPart, PatientPart } from './report-group.js';
import { reportGroups } from './report-groups.js';
import type { ResultStore } from './result-store.js';
import type { Settings } from './settings.js';
import type { Tally } from './tally.js';
import { isAstray, unitPeriod } from './unit-period.js';

/** What the patients of a run are reported from, and how. */
export interface PatientsTask {
  readonly groups: readonly FileGroup[];
  readonly unfit: readonly { readonly name: string }[];
  readonly settings: Settings;
  readonly logs: Logs;
  readonly hasPages: boolean;
  /** The new report folder, for the patients' pages. */
  readonly fresh: string;
  /** Null: nothing is kept. */
  readonly store: ResultStore | null;
  readonly tally: Tally;
  /** Null: everything in this thread. */
  readonly crew: Crew | null;
  readonly strict?: boolean | undefined;
  /** Of a group: its result is taken from the store alone; nothing is where left out. */
  readonly isStoredOnly?: ((group: FileGroup) => boolean) | undefined;
  readonly signal?: AbortSignal | undefined;
}

const unfitPart = ({ name }: { readonly name: string }): KeptPart => {
  const what = 'its name does not fit patient: {fileName: ...}';
  const fix = 'Mend the pattern, or leave the file out of exports.';
  return { ...failedPart(name, new Problem(what, fix, { file: name }), false), report: null };
};

function refuseFailed({ problem }: KeptPart | PatientPart): void {
  if (problem !== null) throw new Problem(`--strict: ${problem.replace(/\.$/, '')}`, 'Nothing was written.');
}

/** What came of all patients. */
export interface ReportedPatients {
  readonly parts: KeptPart[];
  readonly period: ReportPeriod;
  /** Groups whose result was to be in the store, and is not: nothing was reported then. */
  readonly lacking: readonly FileGroup[];
}

/**
 * Reports all patients over the unit's period; pages are written as they come.
 *
 * @throws Problem at the first patient who fails, where that is `strict`
 */
export async function reportPatients(of: PatientsTask): Promise<ReportedPatients> {
  const { groups, settings, strict } = of;
  const clock = new ZoneClock(settings.ingest.zone);
  const unfit = of.unfit.map(unfitPart);
  const lacking: FileGroup[] = [];
  const parts = [...unfit, ...(await reportAll(of, groups, null, lacking))];
  if (strict) parts.forEach(refuseFailed);
  const period = unitPeriod(parts, settings, clock);
  if (lacking.length > 0) return { parts, period, lacking };
  // Each patient was reported over the night that its own data suggest; nearly all fit the unit's. Where the whole
  // of the data is reported, each patient keeps its own.
  const isOwnKept = period.word === 'period' && typeof settings.period === 'string';
  const astray = isOwnKept
    ? []
    : groups.filter((group) => mine(group, parts).some((p) => isAstray(p, period)));
  const replaced = new Set(astray.flatMap((group) => mine(group, parts)));
  await dropPages(of.fresh, replaced);
  const again = await reportAll(of, astray, period, lacking);
  const all = [...parts.filter((part) => !replaced.has(part)), ...again];
  return { parts: all.sort((a, b) => byPatientId(a.id, b.id)), period, lacking };
}

/** The patients of a group; where a column names them, there is one group for all. */
const mine = (group: FileGroup, parts: readonly KeptPart[]): KeptPart[] =>
  parts.filter(({ id }) => group.id === null || group.id === id);

async function reportAll(
  of: PatientsTask,
  groups: readonly FileGroup[],
  period: ReportPeriod | null,
  lacking: FileGroup[],
): Promise<KeptPart[]> {
  const { fresh, tally, strict, crew, signal, isStoredOnly } = of;
  if (groups.length === 0) return [];
  const tasks = patientTasks(of, groups, period, period === null ? isStoredOnly : undefined);
  const pass = period === null ? 1 : 2;
  let place = 0;
  await tally.start(pass, tasks);
  const taken = await reportGroups(tasks, crew, {
    signal,
    take: async (outcome, task) => {
      tally.take(outcome, task);
      if (outcome.isLacking) lacking.push(task.task.group);
      if (strict) outcome.parts.forEach(refuseFailed);
      return Promise.all(outcome.parts.map((part) => putPatient(fresh, part, `${pass}-${place++}`)));
    },
  });
  return taken.flat();
}
