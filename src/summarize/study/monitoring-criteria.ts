import type { CohortRow } from '../../ingest/tables/cohort.js';

/** Whether age counts over 40, or from 40 on as some services have it. */
export type AgeFrom = 'over40' | 'from40';

/** What of a row the criteria rest on. */
export type CriteriaRow = Pick<
  CohortRow,
  'gcsTotal' | 'gcsMotor' | 'ct' | 'ageYears' | 'posturing' | 'sbpMmHg'
>;

/** What the criteria ask, in their order. */
export type CriteriaField = 'gcsTotal' | 'ct' | 'ageYears' | 'posturing' | 'sbpMmHg';

/** Whether a patient fulfils the criteria. */
export interface MonitoringCriteria {
  readonly status: 'met' | 'notMet' | 'cannotTell';
  /** Fields that are blank and could decide; none where the answer does not hang on any. */
  readonly missing: readonly CriteriaField[];
}

const FIELDS: readonly CriteriaField[] = ['gcsTotal', 'ct', 'ageYears', 'posturing', 'sbpMmHg'];
const AGE_YEARS = 40;
const LOW_SBP_MMHG = 90;
const HIGHEST_GCS = 8;

type Answers = Readonly<Record<CriteriaField, boolean>>;
const isOr = <T>(value: T | null, test: (value: T) => boolean): boolean | null =>
  value === null ? null : test(value);

/**
 * Posturing as the table says. A best motor response of 2 (extension) or 3 (abnormal flexion) is posturing itself; another
 * one does not exclude it, since the other side may posture. Source: Teasdale & Jennett, Lancet 1974;2:81-4.
 */
const posturingOf = ({ posturing, gcsMotor }: CriteriaRow): boolean | null =>
  posturing ?? (gcsMotor === 2 || gcsMotor === 3 ? true : null);

function areMet({ gcsTotal, ct, ageYears, posturing, sbpMmHg }: Answers): boolean {
  const risks = [ageYears, posturing, sbpMmHg].filter(Boolean).length;
  return gcsTotal && (ct || risks >= 2);
}

/** All ways in which the blank fields could have been filled in. */
function completions(known: Readonly<Record<CriteriaField, boolean | null>>): Answers[] {
  let all: Partial<Record<CriteriaField, boolean>>[] = [{}];
  for (const field of FIELDS) {
    const value = known[field];
    const choices = value === null ? [false, true] : [value];
    all = all.flatMap((one) => choices.map((choice) => ({ ...one, [field]: choice })));
  }
  return all as Answers[];
}

/**
 * The criteria for monitoring ICP: GCS 3 to 8 after resuscitation with an abnormal CT, or with a normal CT and two or more
 * of age over 40, motor posturing, and systolic pressure below 90 mmHg. What is blank counts as unknown: the answer is given
 * where it is the same however the blank fields are filled in.
 * Source: Brain Trauma Foundation, 3rd ed., J Neurotrauma 2007;24(S1):S37; age from 40: some services.
 */
export function monitoringCriteria(row: CriteriaRow, { ageFrom }: { ageFrom: AgeFrom }): MonitoringCriteria {
  const known = {
    gcsTotal: isOr(row.gcsTotal, (gcs) => gcs <= HIGHEST_GCS),
    ct: isOr(row.ct, (ct) => ct === 'abnormal'),
    ageYears: isOr(row.ageYears, (age) => (ageFrom === 'from40' ? age >= AGE_YEARS : age > AGE_YEARS)),
    posturing: posturingOf(row),
    sbpMmHg: isOr(row.sbpMmHg, (sbp) => sbp < LOW_SBP_MMHG),
  };
  const all = completions(known);
  const met = all.filter(areMet).length;
  if (met === all.length) return { status: 'met', missing: [] };
  if (met === 0) return { status: 'notMet', missing: [] };
  const decides = (field: CriteriaField): boolean =>
    known[field] === null && all.some((one) => areMet({ ...one, [field]: !one[field] }) !== areMet(one));
  return { status: 'cannotTell', missing: FIELDS.filter(decides) };
}
