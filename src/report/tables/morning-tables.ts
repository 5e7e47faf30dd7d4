import { REVIEWED } from '../../clean/decisions.js';
import type { RecordingResult } from '../results-schema.js';
import { bedside } from './bedside-table.js';
import { agreement, removals } from './cleaning-tables.js';
import { END, PATIENT, START, WINDOW_COLUMNS, windowCells } from './columns.js';
import type { Cell } from './csv.js';
import type { Reported } from './reported.js';
import type { TidyColumn, TidyTable } from './tidy-table.js';

const RULE: TidyColumn = { name: 'rule', unit: '', says: 'Cleaning rule, as in the pipeline file' };
const CHANNEL: TidyColumn = {
  name: 'channel',
  unit: '',
  says: 'icp, icpDrain, map, sbp or dbp; of episodes icp or cpp',
};
const GRADE: TidyColumn = {
  name: 'grade',
  unit: '',
  says: 'removed: not the patient; suspect: may be; kept: it is',
};

const patients = ({ recordings }: Reported): TidyTable => ({
  name: 'patients',
  says: 'A row a patient with data, over the period of the report',
  columns: [
    PATIENT,
    START,
    END,
    { name: 'cannotSay', unit: '', says: 'Why nobody can say how the patient was; blank where one can' },
    { name: 'knownShare', unit: '1', says: 'Share of the period over which ICP is known after cleaning' },
    { name: 'suspectHours', unit: 'h', says: 'ICP suspect' },
    ...WINDOW_COLUMNS,
    { name: 'icpRawDoseMmHgHours', unit: 'mm[Hg].h', says: 'Dose of ICP before cleaning' },
    { name: 'rowsRead', unit: '{rows}', says: 'Rows of the exports' },
    { name: 'rowsUsed', unit: '{rows}', says: 'Rows that the figures rest on' },
    {
      name: 'rowsSetAside',
      unit: '{rows}',
      says: 'Rows that no figure uses, each with a reason in setaside.csv',
    },
  ],
  rows: recordings.map((recording) => ({
    patient: recording.id,
    start: recording.period.start,
    end: recording.period.end,
    cannotSay: recording.cannotSay.join(' '),
    knownShare: recording.knownShare,
    suspectHours: recording.suspectHours,
    ...windowCells(recording),
    icpRawDoseMmHgHours: recording.icpRaw.doseMmHgHours,
    ...recording.counts,
  })),
});

const windows = (name: 'hours' | 'days' | 'nights', says: string, { recordings }: Reported): TidyTable => ({
  name,
  says,
  columns: [PATIENT, START, END, ...WINDOW_COLUMNS],
  rows: recordings.flatMap((recording) =>
    recording[name].map((window) => ({
      patient: recording.id,
      start: window.start,
      end: window.end,
      ...windowCells(window),
    })),
  ),
});

/** Rows of a list inside each recording, with the patient in front. */
const perPatient = <T extends object>(
  { recordings }: Reported,
  list: (recording: RecordingResult) => readonly T[],
): (T & { patient: string })[] =>
  recordings.flatMap((recording) => list(recording).map((one) => ({ patient: recording.id, ...one })));

const cppRow = ({
  lowestMmHg,
  ...episode
}: RecordingResult['lowCpp']['episodes'][number]): Readonly<Record<string, Cell>> => ({
  channel: 'cpp',
  ...episode,
  highestMmHg: null,
  lowestCppMmHg: lowestMmHg,
});

const episodes = (results: Reported): TidyTable => ({
  name: 'episodes',
  says: 'A row an episode of ICP, or of low CPP, that shares time with the period, each as a whole',
  columns: [
    PATIENT,
    CHANNEL,
    START,
    END,
    { name: 'minutes', unit: 'min', says: 'From the first crossing to the last' },
    { name: 'highestMmHg', unit: 'mm[Hg]', says: 'Highest sample; blank for cpp' },
    { name: 'meanMmHg', unit: 'mm[Hg]', says: 'Time-weighted mean' },
    {
      name: 'doseMmHgHours',
      unit: 'mm[Hg].h',
      says: 'Integral above the threshold; for cpp, below its target',
    },
    { name: 'lowestCppMmHg', unit: 'mm[Hg]', says: 'Lowest CPP; blank where it is not known' },
    { name: 'openStart', unit: '', says: 'true where missing data cut off its start' },
    { name: 'openEnd', unit: '', says: 'true where missing data cut off its end' },
  ],
  rows: perPatient(results, ({ episodes: ofIcp, lowCpp }) => [...ofIcp, ...lowCpp.episodes.map(cppRow)]),
});

/** Marks, and stretches that a person kept; what was decided stands filled in, so that a copy can be carried on with. */
const markedRows = ({ removed, decisions }: RecordingResult): Readonly<Record<string, Cell>>[] =>
  [
    ...removed.map((mark) => ({
      ...mark,
      decision: mark.decidedBy === null ? null : mark.grade === 'removed' ? 'remove' : 'suspect',
      reviewer: mark.decidedBy,
    })),
    ...decisions
      .filter(({ decision }) => decision === 'keep')
      .map(({ rules: _, ...kept }) => ({
        ...kept,
        rule: REVIEWED,
        grade: 'kept',
        evidence: null,
        decidedBy: kept.reviewer,
      })),
  ].sort((a, b) => Date.parse(a.start) - Date.parse(b.start));

const marked = (results: Reported): TidyTable => ({
  name: 'marked',
  says: 'A row a stretch that a cleaning rule or a person took, or that a person kept',
  columns: [
    PATIENT,
    CHANNEL,
    RULE,
    START,
    END,
    GRADE,
    {
      name: 'direction',
      unit: '',
      says: 'Suspect only: down is left out of the figures (but what pulseLost and transducerMoved mark of MAP), up stays in',
    },
    { name: 'evidence', unit: '', says: 'What speaks for it beside its shape: MAP, the care log' },
    { name: 'decidedBy', unit: '', says: 'Who decided it, where a person and no rule did' },
    { name: 'decision', unit: '', says: 'For a reader to fill in: keep, remove or suspect' },
    { name: 'reviewer', unit: '', says: 'For a reader to fill in: name or initials of who decided' },
  ],
  rows: perPatient(results, markedRows),
});

const cleaning = (results: Reported): TidyTable => ({
  name: 'cleaning',
  says: 'A row a rule that took something in the period',
  columns: [
    PATIENT,
    CHANNEL,
    RULE,
    GRADE,
    { name: 'staysIn', unit: '', says: 'true where a suspect stretch stays in the figures' },
    { name: 'intervals', unit: '{intervals}', says: 'Stretches' },
    { name: 'hours', unit: 'h', says: 'Time counted for this rule, the first that took it' },
    { name: 'shareOfPeriod', unit: '1', says: 'The same as a share of the period' },
    { name: 'icpHoursAboveThresholdWithout', unit: 'h', says: 'ICP above its threshold with this rule off' },
    { name: 'icpDoseMmHgHoursWithout', unit: 'mm[Hg].h', says: 'ICP dose with this rule off' },
    { name: 'cppHoursBelowFloorWithout', unit: 'h', says: 'CPP below its floor with this rule off' },
    { name: 'cppDoseBelowFloorMmHgHoursWithout', unit: 'mm[Hg].h', says: 'CPP dose with this rule off' },
  ],
  rows: perPatient(results, ({ cleaning: { takes } }) =>
    takes.map(({ without, ...take }) => ({
      ...take,
      icpHoursAboveThresholdWithout: without.icpHoursAboveThreshold,
      icpDoseMmHgHoursWithout: without.icpDoseMmHgHours,
      cppHoursBelowFloorWithout: without.cppHoursBelowFloor,
      cppDoseBelowFloorMmHgHoursWithout: without.cppDoseBelowFloorMmHgHours,
    })),
  ),
});

/** The tables of the morning report; of some recordings after others they are the tables of all. */
export const morningTables = (results: Reported): TidyTable[] => [
  patients(results),
  windows('hours', 'A row an hour of the period and patient', results),
  windows('days', 'A row a day of the calendar and patient; none for a period of two days or less', results),
  windows('nights', 'A row a night and patient, over all data', results),
  episodes(results),
  marked(results),
  cleaning(results),
  removals(results),
  agreement(results),
  bedside(results),
];
