import { shorten } from '../../recording/problem.js';
import type { ZoneClock } from '../../recording/zone.js';
import { CORRECT_CELL } from '../rows/correct-cell.js';
import { CellFault } from './cell-fault.js';
import { COHORT_COLUMNS } from './cohort-columns.js';
import { isBefore, type Moment, type RowOf, type RowPlace } from './describe.js';
import { type Outcome, outcomeReader } from './outcome.js';
import { ORDER_FIX } from './read-cells.js';
import type { TableContext, TableDefinition } from './table-definition.js';

type Cells = RowOf<typeof COHORT_COLUMNS>;

/** A patient of a cohort. */
export interface CohortRow extends RowPlace, Omit<Cells, 'pupils' | 'outcome' | 'age' | 'sbp'> {
  readonly ageYears: number | null;
  readonly pupilsReacting: 0 | 1 | 2 | null;
  readonly sbpMmHg: number | null;
  readonly outcome: Outcome | null;
}

/** The assessment that a header such as `GOSE at 6 months` gives for all rows; null where it gives none. */
export function monthsInHeader(name: string): number | null {
  const match = /\b(\d{1,2}) ?-?(?:months?|mo|m)\b/.exec(name) ?? /\bmonth ?(\d{1,2})\b/.exec(name);
  return match ? Number(match[1]) : null;
}

/** Both parts of the GCS beside the motor part give 1 at least, and 9 at most. */
function gcsContradiction({ gcsTotal, gcsMotor }: Cells): CellFault | null {
  if (gcsTotal === null || gcsMotor === null) return null;
  if (gcsTotal >= gcsMotor + 2 && gcsTotal <= gcsMotor + 9) return null;
  return new CellFault(
    `a GCS of ${gcsTotal} cannot hold a motor part of ${gcsMotor}`,
    'Correct one of the two cells.',
    'conflict',
  );
}

/** Rows whose id stands on other lines too, each with the reason: nobody can say which is right. */
function duplicateIds(
  rows: readonly CohortRow[],
  _clock: ZoneClock,
  { cells }: TableContext,
): Map<CohortRow, CellFault> {
  const linesOf = new Map<string, number[]>();
  for (const { text, line } of cells('id')) {
    const lines = linesOf.get(text);
    if (lines) lines.push(line);
    else linesOf.set(text, [line]);
  }
  return new Map(
    rows.flatMap((row): [CohortRow, CellFault][] => {
      const others = (linesOf.get(row.id) ?? []).filter((line) => line !== row.line);
      if (others.length === 0) return [];
      const lines = others.map((line) => `line ${line}`).join(' and ');
      const what = `patient "${shorten(row.id)}" stands on ${lines} as well`;
      return [[row, new CellFault(what, 'A patient has one row: remove or correct the others.', 'conflict')]];
    }),
  );
}

const instant = (moment: Moment | null | undefined): number | null => moment?.utcMs ?? null;

/** A death column such as `Hospital death`: who left alive may have died before the outcome was assessed. */
const isOfHospital = (name: string): boolean => /\bhospital\b/i.test(name);

/** Whether the outcome and the columns of deaths speak of the same patient; null where they can both be true. */
function deathContradiction(
  {
    outcome,
    assessed,
    injury,
    death,
    brainDeath,
  }: Pick<CohortRow, 'outcome' | 'assessed' | 'injury' | 'death' | 'brainDeath'>,
  deathsAreOfHospital: boolean,
): string | null {
  if (outcome === null) return null;
  const isDead = outcome.scale === 'mortality' ? outcome.isDead : outcome.value === 1;
  if (isDead) {
    const isSaid =
      outcome.scale === 'mortality' ||
      deathsAreOfHospital ||
      brainDeath?.happened === true ||
      death?.happened !== false;
    return isSaid ? null : 'the outcome says dead, and the column of deaths says no';
  }
  // A death without a date may lie behind the assessment; the brain dies in the stay that the row is of.
  if (brainDeath?.happened && !brainDeath.at)
    return 'the outcome says alive, and the column of brain death says yes';
  const ends = [brainDeath, death].flatMap((one) => (one?.at ? [one.at.endUtcMs] : []));
  const before = ends.length === 0 ? null : earliestAssessment(assessed, injury);
  return before !== null && Math.min(...ends) < before
    ? 'the outcome says alive, and the patient had died before it was assessed'
    : null;
}

/** What cannot come behind a death. */
const BEFORE_DEATH = ['withdrawn', 'brainDeath'] as const;

/** A death that lies before what it cannot; null where all times go together, or are not known. */
function earlyDeath({ death, ...cells }: Cells, { column }: TableContext): CellFault | null {
  const diedAt = death?.at;
  if (!diedAt) return null;
  const key = BEFORE_DEATH.find((one) => {
    // Death may be dated when the brain is found to have died, and the ventilator stopped a day later.
    if (one === 'withdrawn' && cells.brainDeath?.happened) return false;
    const at = cells[one]?.at;
    return at && isBefore(diedAt, at);
  });
  if (key === undefined) return null;
  const what = `the death is before "${shorten(column(key)?.header ?? key)}"`;
  return new CellFault(what, ORDER_FIX, 'order').in(column('death')?.header ?? 'death');
}

/** Milliseconds UTC before which an outcome was surely not assessed; null where the table does not say. */
function earliestAssessment(assessed: CohortRow['assessed'], injury: Moment | null): number | null {
  if (!assessed) return null;
  if (!('months' in assessed)) return assessed.utcMs;
  return injury ? injury.utcMs + (assessed.months - MONTHS_AWAY) * SHORT_MONTH_MS : null;
}

/** An assessment is named by the month that it was due in, and held up to one away from it. Common practice, no source. */
const MONTHS_AWAY = 1;
const SHORT_MONTH_MS = 28 * 86_400_000;

/** The table of a cohort. */
export const COHORT_TABLE: TableDefinition<typeof COHORT_COLUMNS, CohortRow> = {
  title: 'a cohort table',
  columns: COHORT_COLUMNS,
  requires: [['id']],
  main: 'id',
  mayRepeat: false,
  maker: (context) => {
    const readOutcome = outcomeReader(context);
    const months = monthsInHeader(context.column('outcome')?.name ?? '');
    const byHeader = context.column('assessed') || months === null ? null : { months };
    return (cells) => {
      const contradiction = gcsContradiction(cells) ?? earlyDeath(cells, context);
      if (contradiction) return contradiction;
      const { pupils, age, sbp, outcome: text, ...row } = cells;
      const outcome = text === null ? null : readOutcome(text, row.line);
      if (outcome instanceof CellFault) return outcome;
      const assessed = row.assessed ?? (outcome ? byHeader : null);
      const ofHospital = isOfHospital(context.column('death')?.name ?? '');
      const conflict = outcome && deathContradiction({ ...row, outcome, assessed }, ofHospital);
      if (conflict) return new CellFault(conflict, CORRECT_CELL, 'conflict');
      return {
        ...row,
        ageYears: age,
        pupilsReacting: pupils === null ? null : (Number(pupils) as 0 | 1 | 2),
        sbpMmHg: sbp,
        outcome,
        assessed,
      };
    };
  },
  across: duplicateIds,
  instants: ({ injury, admission, monitoringFrom, monitoringTo }) =>
    [injury, admission, monitoringFrom, monitoringTo].map(instant),
  countedAs: ({ outcome }) => {
    if (!outcome) return 'no outcome';
    if (outcome.scale === 'mortality') return outcome.isDead ? 'dead' : 'alive';
    return `${outcome.scale.toUpperCase()} ${outcome.value}`;
  },
};
