import type { CohortRow } from '../../ingest/tables/cohort.js';
import type { Happened, Moment, MomentOrMonths } from '../../ingest/tables/describe.js';
import type { OutcomeScale } from '../../ingest/tables/outcome.js';
import type { ZoneClock } from '../../recording/zone.js';
import { type Cell, toCsv } from '../tables/csv.js';
import { daysFromStart, type PatientTimes, sharedDay, sharedTime } from './shared-times.js';

/** A patient of the cohort who is shared; without a start of monitoring no time of the row can be told. */
export interface CodedRow {
  readonly code: string;
  readonly row: CohortRow;
  readonly times: PatientTimes | null;
}

/** A table as it is shared. */
export interface SharedCohort {
  readonly csv: string;
  /** Keys of the columns that hold times, for the shared pipeline file. */
  readonly timeKeys: readonly string[];
  readonly rows: number;
  readonly agesGrouped: number;
  /** Times that could not be told, since nothing says when monitoring began. */
  readonly timesLeftOut: number;
}

/** Over it, all ages are one group (45 CFR 164.514(b)(2)(i)(C)): written as 90, with a flag beside it. */
const OLDEST_TOLD = 89;
const GROUPED_AS = 90;

const DAY_S = 86_400;

const OUTCOME_HEADERS: Readonly<Record<OutcomeScale, string>> = {
  gos: 'GOS',
  gose: 'GOSE',
  mortality: 'Vital status',
};

const yesNo = (value: boolean | null): string | null => (value === null ? null : value ? 'yes' : 'no');

type TimeKey =
  | 'injury'
  | 'admission'
  | 'monitoringFrom'
  | 'monitoringTo'
  | 'craniectomy'
  | 'withdrawn'
  | 'brainDeath'
  | 'death'
  | 'assessed';

const momentOf = (cell: Moment | Happened | MomentOrMonths | null): Moment | null => {
  if (cell === null || 'months' in cell) return null;
  return 'happened' in cell ? cell.at : cell;
};

/** The moments of a row; an assessment in months after the injury is none. */
function momentsOf(row: CohortRow): [TimeKey, Moment][] {
  const keys: readonly TimeKey[] = [
    ...(['injury', 'admission', 'monitoringFrom', 'monitoringTo', 'craniectomy', 'withdrawn'] as const),
    ...(['brainDeath', 'death', 'assessed'] as const),
  ];
  return keys.flatMap((key): [TimeKey, Moment][] => {
    const moment = momentOf(row[key]);
    return moment ? [[key, moment]] : [];
  });
}

/**
 * A moment in seconds since the start of monitoring. Of a day without a time of day it is the seconds between which the day
 * lies, in whole days from the start, which give away no time of day: whoever needs the earliest or the latest instant of
 * it has that, and nobody takes it for an exact time.
 */
function elapsedText(times: PatientTimes, { utcMs, isDay }: Moment, clock: ZoneClock): string {
  if (isDay) {
    const days = daysFromStart(times, utcMs, clock);
    return `between ${(days - 1) * DAY_S} and ${(days + 1) * DAY_S}`;
  }
  const text = sharedTime(times, utcMs);
  // Beside yes and no, 0 and 1 would be read as these.
  return /^-?\d+$/.test(text) ? `${text}.0` : text;
}

/** The cells of times of one row, by key; blank where a time cannot be told. */
function timeCells({ row, times }: CodedRow, clock: ZoneClock): (key: TimeKey) => string | null {
  const moments = new Map(momentsOf(row));
  return (key) => {
    const moment = moments.get(key);
    if (moment === undefined || times === null) return null;
    if (times.mode === 'elapsed') return elapsedText(times, moment, clock);
    return moment.isDay ? sharedDay(times, moment, clock) : sharedTime(times, moment.utcMs);
  };
}

type Happening = 'craniectomy' | 'withdrawn' | 'brainDeath' | 'death';

const AGE_GROUPED = 'Age over 89';

/** All columns that may be shared, in their order; those that hold nothing are left out. */
const HEADERS = {
  id: 'Patient',
  age: 'Age (years)',
  ageGrouped: AGE_GROUPED,
  injury: 'Injury',
  admission: 'Admission',
  gcsTotal: 'GCS total',
  gcsMotor: 'GCS motor',
  ct: 'CT',
  pupils: 'Pupils reacting',
  posturing: 'Motor posturing',
  sbp: 'SBP (mmHg)',
  monitoringFrom: 'Monitoring from',
  monitoringTo: 'Monitoring to',
  therapyIntensity: 'Therapy intensity',
  craniectomy: 'Craniectomy',
  withdrawn: 'Treatment withdrawn',
  brainDeath: 'Brain death',
  death: 'Death',
  outcome: '',
  assessed: 'Outcome assessed',
} as const;
type Key = keyof typeof HEADERS;

const isGrouped = ({ ageYears }: CohortRow): boolean => ageYears !== null && ageYears > OLDEST_TOLD;

function cellsOf(coded: CodedRow, clock: ZoneClock): Readonly<Record<Key, Cell>> {
  const { code, row } = coded;
  const at = timeCells(coded, clock);
  const happened = (key: Happening): string | null => at(key) ?? yesNo(row[key]?.happened ?? null);
  const { outcome, assessed } = row;
  return {
    id: code,
    age: isGrouped(row) ? GROUPED_AS : row.ageYears,
    ageGrouped: isGrouped(row) ? 'yes' : null,
    injury: at('injury'),
    admission: at('admission'),
    gcsTotal: row.gcsTotal,
    gcsMotor: row.gcsMotor,
    ct: row.ct,
    pupils: row.pupilsReacting,
    posturing: yesNo(row.posturing),
    sbp: row.sbpMmHg,
    monitoringFrom: at('monitoringFrom'),
    monitoringTo: at('monitoringTo'),
    therapyIntensity: row.therapyIntensity,
    craniectomy: happened('craniectomy'),
    withdrawn: happened('withdrawn'),
    brainDeath: happened('brainDeath'),
    death: happened('death'),
    outcome:
      outcome === null
        ? null
        : outcome.scale === 'mortality'
          ? outcome.isDead
            ? 'dead'
            : 'alive'
          : outcome.value,
    assessed: assessed !== null && 'months' in assessed ? `${assessed.months} months` : at('assessed'),
  };
}

const TIME_KEYS: readonly Key[] = [
  ...(['injury', 'admission', 'monitoringFrom', 'monitoringTo', 'craniectomy', 'withdrawn'] as const),
  ...(['brainDeath', 'death', 'assessed'] as const),
];

/** The cohort as it is shared: columns that our own reading knows, and no others. The rows are of one scale of outcome. */
export function sharedCohort(rows: readonly CodedRow[], clock: ZoneClock): SharedCohort {
  const cells = rows.map((row) => cellsOf(row, clock));
  const isFilled = (key: Key): boolean =>
    key === 'id' || cells.some((row) => row[key] !== null && row[key] !== undefined);
  const keys = (Object.keys(HEADERS) as Key[]).filter(isFilled);
  const scale = rows.find(({ row }) => row.outcome)?.row.outcome?.scale;
  const headerOf = (key: Key): string =>
    key === 'outcome' && scale !== undefined ? OUTCOME_HEADERS[scale] : HEADERS[key];
  return {
    csv: toCsv(
      keys.map(headerOf),
      cells.map((row) => keys.map((key) => row[key])),
    ),
    timeKeys: keys.filter((key) => TIME_KEYS.includes(key)),
    rows: rows.length,
    agesGrouped: rows.filter(({ row }) => isGrouped(row)).length,
    timesLeftOut: rows.reduce((sum, { row, times }) => sum + (times === null ? momentsOf(row).length : 0), 0),
  };
}
