import { spreadOf } from '../../summarize/study/analysis/spread.js';
import type { StudyPatient } from '../../summarize/study/analysis/study-patient.js';
import { monitoredHoursOf } from '../../summarize/study/analysis/table-one.js';
import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyWindowsResult } from '../results-study-cohort.js';
import { bySide } from './by-side.js';
import { spreadResult } from './spread-result.js';
import { tally } from './tally.js';

/** What a primary window ends by. */
const END_TITLES: Readonly<Record<StudyPatient['windowEndsBy'], string>> = {
  length: 'its full length',
  data: 'the last ICP of the exports',
  monitoringTo: 'the end of monitoring that the table gives',
  withdrawn: 'withdrawal of treatment',
  brainDeath: 'brain death',
  death: 'death',
};
const KINDS = Object.keys(END_TITLES) as StudyPatient['windowEndsBy'][];

/** How long the patients of the main analysis were monitored, and what ended the time that counts. */
export function windowsResult({ groups, memberOf, settings }: StudyCohort): StudyWindowsResult {
  const patients = groups.coded.map(({ patient }) => patient);
  return {
    primaryHours: settings.primaryHours,
    monitoredHours: bySide(groups, (side) => spreadResult(spreadOf(side.map(monitoredHoursOf)))),
    endsBy: KINDS.map((kind) => ({
      kind,
      title: END_TITLES[kind],
      patients: patients.filter(({ windowEndsBy }) => windowEndsBy === kind).length,
    })),
    // Once a patient, however often a remark was made of one.
    remarks: tally(patients.flatMap(({ id }) => [...new Set(memberOf.get(id)?.study?.remarks)])).map(
      ({ text, count }) => ({ remark: text, patients: count }),
    ),
  };
}
