import type { FileGroup } from '../ingest/group-files.js';
import { isOfUnit } from '../report/report-name.js';
import type { ReportPeriod } from '../summarize/period.js';
import { shiftsOfGroup } from './clock-shifts.js';
import { logResults } from './compose.js';
import { type Logs, logsOfGroup } from './read-logs.js';
import { patientSettings } from './report-group.js';
import type { ResultStore } from './result-store.js';
import type { Settings } from './settings.js';
import type { StoredTask } from './stored-group.js';

/** What the tasks of a run have in common. */
export interface TasksOf {
  readonly settings: Settings;
  readonly logs: Logs;
  readonly hasPages: boolean;
  /** Null: nothing is kept. */
  readonly store: ResultStore | null;
}

/**
 * A task for each group, which hangs on nothing but the group's own files, the settings and the logs: whoever makes it, on
 * whatever machine, asks for the same stored result.
 *
 * @param period null: the one that each patient's own data suggest
 * @param isStoredOnly of a group
 */
export function patientTasks(
  { settings, logs, hasPages, store }: TasksOf,
  groups: readonly FileGroup[],
  period: ReportPeriod | null,
  isStoredOnly: (group: FileGroup) => boolean = () => false,
): StoredTask[] {
  const common = patientSettings(settings);
  const accounts = logResults(logs.accounts);
  return groups.map((group): StoredTask => {
    const task = {
      group,
      settings: { ...common, ingest: shiftsOfGroup(common.ingest, group.id) },
      logs: logsOfGroup(logs, group.id, settings.report),
      logResults: accounts,
      period,
      // A report of the unit alone draws nothing of a patient, whose result then hangs on no page.
      hasPages: hasPages && !isOfUnit(settings.report),
    };
    return { task, store, isStoredOnly: isStoredOnly(group) };
  });
}
