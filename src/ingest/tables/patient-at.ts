import { shorten } from '../../recording/problem.js';
import type { ZoneClock } from '../../recording/zone.js';
import type { RowSetAside } from '../rows/set-aside.js';
import type { RowPlace } from './describe.js';
import { bedLabel, maybeSameUnit, overlappingStays } from './overlapping-stays.js';
import type { Stay } from './stay.js';
import type { TableRows } from './table-rows.js';
import type { Whose } from './whose.js';

/** Who lay in which bed, from one table or several. */
export interface Occupancy {
  readonly clock: ZoneClock;
  /** By the bed's label. */
  readonly beds: ReadonlyMap<string, readonly Stay[]>;
  /** Stays that contradict others. */
  readonly contested: ReadonlySet<Stay>;
  /** Those that only stays in another file contradict: their rows are no longer used. */
  readonly setAside: readonly RowSetAside[];
}

/** Joins tables of beds; stays that contradict each other answer no question. */
export function occupancyOf(
  tables: readonly Pick<TableRows<Stay>, 'rows' | 'contradicting'>[],
  clock: ZoneClock,
): Occupancy {
  const stays = tables.flatMap(({ rows, contradicting }) => [...rows, ...contradicting]);
  const known = new Set(tables.flatMap(({ contradicting }) => contradicting));
  const faults = overlappingStays(stays, clock);
  const beds = new Map<string, Stay[]>();
  for (const stay of stays) {
    const inBed = beds.get(bedLabel(stay.bed));
    if (inBed) inBed.push(stay);
    else beds.set(bedLabel(stay.bed), [stay]);
  }
  const setAside = [...faults].flatMap(([stay, { kind, what, fix }]): RowSetAside[] =>
    known.has(stay) ? [] : [{ file: stay.file, line: stay.line, rows: 1, kind, reason: what, fix }],
  );
  return { clock, beds, contested: new Set([...known, ...faults.keys()]), setAside };
}

/** The patient of a bed, or why nobody can be named. */
export type PatientAt = { readonly patient: string } | { readonly reason: string };

const linesOf = (stays: readonly Stay[]): string =>
  stays.map(({ file, line }) => `line ${line} of ${file}`).join(' and ');

/** Who lay in a bed at an instant; a stay's end is no longer part of it. */
export function patientAt(
  occupancy: Occupancy | null,
  bed: string,
  utcMs: number,
  unit: string | null = null,
): PatientAt {
  if (!occupancy) return { reason: 'the row names only a bed, and no table of beds is given' };
  const { beds, clock, contested } = occupancy;
  const shown = `bed "${shorten(bed)}"`;
  const inBed = (beds.get(bedLabel(bed)) ?? []).filter((stay) => maybeSameUnit(stay.unit, unit));
  if (inBed.length === 0) return { reason: `${shown} is not in the table of beds` };
  const here = inBed.filter(
    ({ fromUtcMs, toUtcMs }) => fromUtcMs <= utcMs && (toUtcMs === null || utcMs < toUtcMs),
  );
  const at = clock.format(utcMs);
  if (here.length === 0) return { reason: `${shown} was empty at ${at}` };
  const doubtful = here.filter((stay) => contested.has(stay));
  if (doubtful.length > 0) {
    return { reason: `nobody can say who lay in ${shown} at ${at}: see ${linesOf(doubtful)}` };
  }
  const patients = new Set(here.map(({ patient }) => patient));
  const [patient] = patients;
  if (patients.size === 1) return { patient };
  return {
    reason: `${shown} stands in more than one unit, and the row does not say in which: see ${linesOf(here)}`,
  };
}

/** Rows of a log with their patients. */
export interface PatientsOfRows<R> {
  readonly rows: readonly (R & { readonly patient: string })[];
  readonly setAside: readonly RowSetAside[];
  readonly warnings: readonly string[];
}

const FIX =
  'Give the table of beds as occupancy in the pipeline file, complete it, or export the log with patients.';

/** Names the patient of each row of a log; a row of whom nobody can say so is set aside with the reason. */
export function patientsOfRows<R extends RowPlace & Whose>(
  rows: readonly R[],
  instantOf: (row: R) => number,
  occupancy: Occupancy | null,
): PatientsOfRows<R> {
  const named: (R & { readonly patient: string })[] = [];
  const setAside: RowSetAside[] = [];
  const others: R[] = [];
  for (const row of rows) {
    const { file, line, patient, bed, ward } = row;
    const found = bed === null ? null : patientAt(occupancy, bed, instantOf(row), ward);
    if (patient !== null) {
      named.push({ ...row, patient });
      if (found && 'patient' in found && found.patient !== patient) others.push(row);
    } else if (found && 'patient' in found) named.push({ ...row, patient: found.patient });
    else {
      const reason = found?.reason ?? 'neither patient nor bed is given';
      setAside.push({ file, line, rows: 1, kind: 'unused', reason, fix: FIX });
    }
  }
  return { rows: named, setAside, warnings: others.length === 0 ? [] : [disagreement(others)] };
}

function disagreement(rows: readonly Whose[] & readonly RowPlace[]): string {
  const [{ file, line }] = rows;
  const more = rows.length === 1 ? '' : ` and ${rows.length - 1} more ${rows.length === 2 ? 'row' : 'rows'}`;
  return `The table of beds has another patient in the bed than the log names (line ${line} of ${file}${more}); the log is believed.`;
}
