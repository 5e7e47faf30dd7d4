import type { Figure } from '../../figure.js';
import { logisticRegression } from '../../statistics/regression/logistic.js';
import { type FeatureCases, LEAST_PATIENTS } from './feature-cases.js';
import { type OrdinalOdds, ordinalOdds } from './ordinal-odds.js';
import { type LogisticOdds, logisticOdds, type NoOdds, oddsPerStep } from './step-odds.js';
import type { Adjuster, StudyPatient } from './study-patient.js';

/** An association with what was known at admission held as it is. */
export interface AdjustedOdds {
  readonly adjusters: readonly Adjuster[];
  /** Asked for, and not in the model. */
  readonly leftOut: readonly { readonly adjuster: Adjuster; readonly reason: string }[];
  /** Patients of whom the feature, the outcome and all adjusters are known, and those with some adjuster blank. */
  readonly complete: number;
  readonly incomplete: number;
  readonly logistic: LogisticOdds | NoOdds;
  readonly ordinal: OrdinalOdds | NoOdds;
  /**
   * The odds ratio of the feature alone in the same patients: what adjusting does, and not the loss of the incomplete, stands
   * between this and the adjusted one.
   */
  readonly unadjusted: Figure;
}

/** Age, pupils, and the GCS part that more patients have; the motor part where they are as many. Own convention. */
export function usualAdjusters(patients: readonly StudyPatient[]): Adjuster[] {
  const known = (adjuster: Adjuster): number => patients.filter((one) => one[adjuster] !== null).length;
  const gcs = known('gcsTotal') > known('gcsMotor') ? 'gcsTotal' : 'gcsMotor';
  return ['ageYears', gcs, 'pupilsReacting'];
}

/** Without those that nobody has, and those that tell nothing of the patients who have all of the others. */
function usable(
  wanted: readonly Adjuster[],
  patients: readonly StudyPatient[],
): Pick<AdjustedOdds, 'adjusters' | 'leftOut'> & { readonly rows: readonly number[] } {
  const leftOut: { adjuster: Adjuster; reason: string }[] = [];
  const known = wanted.filter((adjuster) => {
    const isKnown = patients.some((patient) => patient[adjuster] !== null);
    if (!isKnown) leftOut.push({ adjuster, reason: 'not known of any patient' });
    return isKnown;
  });
  const rows = [...patients.keys()].filter((i) => known.every((adjuster) => patients[i][adjuster] !== null));
  const adjusters = known.filter((adjuster) => {
    const isSame = rows.every((i) => patients[i][adjuster] === patients[rows[0]][adjuster]);
    if (isSame && rows.length > 0) leftOut.push({ adjuster, reason: 'the same in all complete patients' });
    return !isSame || rows.length === 0;
  });
  return { adjusters, leftOut, rows };
}

/**
 * Odds per step of a feature, adjusted, on complete cases. Each adjuster enters as one number, the GCS by its points and
 * pupils by how many react, since a level each would take more patients than studies of one unit have; own convention.
 *
 * @param step in units of the feature, above 0
 */
export function adjustedOdds(cases: FeatureCases, wanted: readonly Adjuster[], step: number): AdjustedOdds {
  const { adjusters, leftOut, rows } = usable(wanted, cases.patients);
  const counts = { complete: rows.length, incomplete: cases.patients.length - rows.length };
  const none = (reason: string): AdjustedOdds => {
    const no = { reason };
    return { adjusters, leftOut, ...counts, logistic: no, ordinal: no, unadjusted: no };
  };
  if (wanted.length === 0) return none('nothing is named to adjust by');
  if (adjusters.length === 0) return none('nothing is left to adjust by');
  if (rows.length < LEAST_PATIENTS) {
    return none(
      `all that is adjusted by is known of ${rows.length} patients, and a model needs ${LEAST_PATIENTS}`,
    );
  }
  const values = rows.map((i) => cases.values[i]);
  if (values.every((value) => value === values[0])) return none('all complete patients have the same value');
  const events = rows.map((i) => cases.events[i]);
  const codes = rows.map((i) => cases.codes[i]);
  const columns = [
    values,
    ...adjusters.map((adjuster) => rows.map((i) => cases.patients[i][adjuster] as number)),
  ];
  const alone = logisticRegression([values], events);
  return {
    adjusters,
    leftOut,
    ...counts,
    logistic: logisticOdds(columns, events, step),
    ordinal: ordinalOdds(columns, codes, step),
    unadjusted:
      'reason' in alone
        ? { reason: alone.reason }
        : oddsPerStep(alone.slopes[0], alone.slopes[0], step).value,
  };
}
