import type { Moment } from '../../ingest/tables/describe.js';
import { HOUR_MS } from '../../summarize/hour.js';
import { codeOn } from '../../summarize/study/analysis/outcome-groups.js';
import { hasDiedBy } from '../../summarize/study/analysis/study-patient.js';
import { monitoringCriteria } from '../../summarize/study/monitoring-criteria.js';
import { outcomeCode } from '../../summarize/study/outcome-code.js';
import { rowOver, type StudyCohort, type StudyMember } from '../../summarize/study/study-cohort.js';
import { monthsAfter, timedOutcome } from '../../summarize/study/timed-outcome.js';
import type { Cell } from './csv.js';
import { flag, number, STUDY_PATIENT, whole, word } from './study-columns.js';
import type { TidyColumn, TidyTable } from './tidy-table.js';

type Cells = Record<string, Cell>;
type Row = NonNullable<StudyMember['row']>;

/** What happened to a patient, by the name of its columns. */
const EVENTS: readonly (readonly [name: string, title: string, of: (row: Row) => Moment | null])[] = [
  ['injury', 'Injury', ({ injury }) => injury],
  ['admission', 'Admission', ({ admission }) => admission],
  ['craniectomy', 'Craniectomy', ({ craniectomy }) => craniectomy?.at ?? null],
  ['withdrawn', 'Withdrawal of treatment', ({ withdrawn }) => withdrawn?.at ?? null],
  ['brainDeath', 'Brain death', ({ brainDeath }) => brainDeath?.at ?? null],
  ['death', 'Death', ({ death }) => death?.at ?? null],
];

const EVENT_COLUMNS: readonly TidyColumn[] = EVENTS.flatMap(([name, title]) => [
  number(
    `${name}Hours`,
    `${title}, hours`,
    'h',
    'Hours from the start of monitoring, under 0 before it; blank where the table gives no time of day, or exports no start',
  ),
  whole(
    `${name}Days`,
    `${title}, days`,
    'd',
    'The same in days of 24 h, rounded; of a day without a time of day, to its middle',
  ),
]);

const STATUS: readonly TidyColumn[] = [
  flag('isInTable', 'In the cohort table', 'Whether the cohort table has a row of the patient'),
  word('exports', 'Exports', 'read, failed (there are some, and they could not be read) or none'),
  word(
    'flow',
    'Flow',
    'analysed, or the first step of the table flow that was not passed; withdrawn is in the main analysis and not in the one without withdrawals; notInTable for exports without a row',
  ),
  flag('isInMain', 'In the main analysis', 'Whether the patient is in the main analysis'),
  word('criteria', 'Criteria for monitoring', 'met, notMet or cannotTell'),
  word('criteriaMissing', 'Criteria: what is missing', 'Blank fields that could decide, with blanks between'),
];

const OUTCOME: readonly TidyColumn[] = [
  word('outcomeScale', 'Scale of the outcome', 'gos, gose or mortality, as the table gives it'),
  whole(
    'outcomeValue',
    'Outcome on its scale',
    '{level}',
    'Level on that scale, a higher one better; of mortality 1 for alive and 0 for dead',
  ),
  number('assessedMonths', 'Assessment', 'mo', 'Months from the injury to the assessment of the outcome'),
  word('outcomeTiming', 'Time of the outcome', 'inTime, otherTime, unknown (it counts), or none: no outcome'),
  whole(
    'code',
    'Outcome of the study',
    '{level}',
    'Level on the scale of the study; blank where it does not count',
  ),
  flag(
    'isFavourable',
    'Favourable outcome',
    'Whether that level counts as favourable; blank where it does not count',
  ),
];

const COVARIATES: readonly TidyColumn[] = [
  number('ageYears', 'Age', 'a', 'Age as the table gives it'),
  whole('gcsTotal', 'GCS', '{points}', 'GCS total, 3 to 15'),
  whole('gcsMotor', 'GCS motor', '{points}', 'Motor part of the GCS, 1 to 6'),
  whole('pupilsReacting', 'Pupils reacting', '{pupils}', 'How many pupils react to light'),
  word('ct', 'CT', 'normal or abnormal'),
  flag('posturing', 'Motor posturing', 'Motor posturing, as the table says'),
  number('sbpMmHg', 'Systolic pressure', 'mm[Hg]', 'Systolic pressure, as the table gives it'),
  number(
    'therapyIntensity',
    'Therapy intensity',
    '1',
    'The score of the table; which scale it is, and over which days, the table has to say',
  ),
  flag('craniectomy', 'Craniectomy', 'Whether there was one, at any time'),
  flag('withdrawn', 'Treatment withdrawn', 'Whether treatment was withdrawn, at any time'),
  flag('brainDeath', 'Brain death', 'Whether brain death was declared'),
  flag(
    'died',
    'Died',
    'Whether the patient died, as the columns of brain death and of deaths or the outcome of the study say',
  ),
];

const MONITORING: readonly TidyColumn[] = [
  number(
    'icpMonitoredHours',
    'Monitored hours of ICP',
    'h',
    'Hours of known ICP in the primary window, which the flow asks for',
  ),
  number('primaryEndHours', 'End of the primary window', 'h', 'Hours from the start of monitoring'),
  word('primaryEndsBy', 'What ends the primary window', 'As in the table features'),
  number('stayEndHours', 'End of the stay', 'h', 'Hours from the start of monitoring'),
  word('stayEndsBy', 'What ends the stay', 'As in the table features'),
  word('windowReason', 'Why there is no window', 'Why there is no primary window; blank where there is one'),
  word('remarks', 'Remarks', 'What table and exports leave open of the windows'),
];

/** Hours and days from the start of monitoring; a day is told by its middle, and by no hour. */
function eventCells(row: Row, startMs: number | null): Cells {
  return Object.fromEntries(
    EVENTS.flatMap(([name, , of]): [string, Cell][] => {
      const at = of(row);
      if (at === null || startMs === null) return [];
      const hours = ((at.utcMs + at.endUtcMs) / 2 - startMs) / HOUR_MS;
      // Not -0, which would be another number in one form of the table than in the other.
      return [
        [`${name}Hours`, at.isDay ? null : hours + 0],
        [`${name}Days`, Math.round(hours / 24) + 0],
      ];
    }),
  );
}

function rowCells(row: Row, { settings, cut, timings }: StudyCohort): Cells {
  const { outcome } = timedOutcome(row, settings.outcome);
  const code = outcome && codeOn(cut.scale, outcome);
  const criteria = monitoringCriteria(row, settings);
  return {
    criteria: criteria.status,
    criteriaMissing: criteria.missing.join(' '),
    outcomeScale: row.outcome?.scale,
    outcomeValue: row.outcome && outcomeCode(row.outcome),
    assessedMonths: row.outcome && monthsAfter(row),
    outcomeTiming: timings.get(row.id),
    code,
    isFavourable: code === null ? null : code >= cut.favourableFrom,
    ageYears: row.ageYears,
    gcsTotal: row.gcsTotal,
    gcsMotor: row.gcsMotor,
    pupilsReacting: row.pupilsReacting,
    ct: row.ct,
    posturing: row.posturing,
    sbpMmHg: row.sbpMmHg,
    therapyIntensity: row.therapyIntensity,
    craniectomy: row.craniectomy?.happened,
    withdrawn: row.withdrawn?.happened,
    brainDeath: row.brainDeath?.happened,
    died: hasDiedBy({ ...row, outcome }),
  };
}

function monitoringCells({ study }: StudyMember): Cells {
  const [primary, stay] = (['primary', 'stay'] as const).map((kind) => rowOver(study, kind)?.window ?? null);
  const endOf = (window: typeof primary) => (window === null || 'reason' in window ? null : window);
  return {
    icpMonitoredHours: study?.primaryIcpHours,
    primaryEndHours: endOf(primary)?.endHours,
    primaryEndsBy: endOf(primary)?.endsBy,
    stayEndHours: endOf(stay)?.endHours,
    stayEndsBy: endOf(stay)?.endsBy,
    windowReason: primary !== null && 'reason' in primary ? primary.reason : null,
    remarks: study?.remarks.join('; '),
  };
}

/**
 * The patients of table and exports, a row each: where the flow puts them, what the table says of them, and how long they
 * were monitored. Times are those since the start of monitoring: no date of the calendar stands in it, and no free text.
 */
export function studyPatientTable(cohort: StudyCohort): TidyTable {
  const { members, flow } = cohort;
  const main = new Set(flow.withOutcome);
  return {
    name: 'patients',
    says: 'A row a patient of the cohort table or of the exports',
    key: ['patient'],
    columns: [STUDY_PATIENT, ...STATUS, ...OUTCOME, ...COVARIATES, ...EVENT_COLUMNS, ...MONITORING],
    rows: members.map((member) => {
      const { id, row, exports, study } = member;
      return {
        patient: id,
        isInTable: row !== null,
        exports,
        flow: row === null ? 'notInTable' : (flow.stoppedAt.get(id) ?? 'analysed'),
        isInMain: main.has(id),
        ...(row ? rowCells(row, cohort) : {}),
        ...(row ? eventCells(row, study?.startMs ?? null) : {}),
        ...monitoringCells(member),
      };
    }),
  };
}
