import type { OutcomeGroups } from './outcome-groups.js';
import { type Spread, spreadOf } from './spread.js';
import type { StudyPatient } from './study-patient.js';

/** How many have each value. */
export interface Distribution {
  readonly counts: readonly { readonly value: number; readonly count: number }[];
  readonly missing: number;
}

/** How many were said to, and not to; `missing` of whom nothing is said. */
export interface YesOrNo {
  readonly yes: number;
  readonly no: number;
  readonly missing: number;
}

/** A column of the table: one group of patients. Each cell counts whom it does not know. */
export interface CohortColumn {
  readonly patients: number;
  readonly ageYears: Spread;
  readonly gcsMotor: Spread & Distribution;
  readonly gcsTotal: Spread & Distribution;
  readonly pupilsReacting: Distribution;
  readonly therapyIntensity: Spread;
  /** Of ICP, in the window of the features. */
  readonly monitoredHours: Spread;
  readonly died: YesOrNo;
  readonly craniectomy: YesOrNo;
  readonly withdrawn: YesOrNo;
}

/** Who the patients are, by outcome. */
export interface TableOne {
  readonly favourable: CohortColumn;
  readonly unfavourable: CohortColumn;
  /** Whether they differ from the others says how far the study is of those who were followed alone. */
  readonly withoutOutcome: CohortColumn;
  /** The three together. */
  readonly all: CohortColumn;
}

/** The feature that holds them. */
const MONITORED_HOURS_KEY = 'icpMonitoredHours';

const range = (from: number, to: number): number[] =>
  Array.from({ length: to - from + 1 }, (_, i) => from + i);

function distributionOf(values: readonly (number | null)[], levels: readonly number[]): Distribution {
  return {
    counts: levels.map((value) => ({ value, count: values.filter((one) => one === value).length })),
    missing: values.filter((value) => value === null).length,
  };
}

/** Those of whom it is not known are missing, and are not counted as no. */
const saidOf = (values: readonly (boolean | null)[]): YesOrNo => ({
  yes: values.filter((value) => value === true).length,
  no: values.filter((value) => value === false).length,
  missing: values.filter((value) => value === null).length,
});

/** Monitored hours of ICP in the window; null where that is not known. */
export function monitoredHoursOf({ features }: StudyPatient): number | null {
  const hours = features[MONITORED_HOURS_KEY];
  return typeof hours === 'number' ? hours : null;
}

function columnOf(patients: readonly StudyPatient[]): CohortColumn {
  const scored = (values: readonly (number | null)[], levels: readonly number[]): Spread & Distribution => ({
    ...spreadOf(values),
    ...distributionOf(values, levels),
  });
  return {
    patients: patients.length,
    ageYears: spreadOf(patients.map(({ ageYears }) => ageYears)),
    gcsMotor: scored(
      patients.map(({ gcsMotor }) => gcsMotor),
      range(1, 6),
    ),
    gcsTotal: scored(
      patients.map(({ gcsTotal }) => gcsTotal),
      range(3, 15),
    ),
    pupilsReacting: distributionOf(
      patients.map(({ pupilsReacting }) => pupilsReacting),
      range(0, 2),
    ),
    therapyIntensity: spreadOf(patients.map(({ therapyIntensity }) => therapyIntensity)),
    monitoredHours: spreadOf(patients.map(monitoredHoursOf)),
    died: saidOf(patients.map(({ hasDied }) => hasDied)),
    craniectomy: saidOf(patients.map(({ hadCraniectomy }) => hadCraniectomy)),
    withdrawn: saidOf(patients.map(({ isWithdrawn }) => isWithdrawn)),
  };
}

/** The patients by outcome and in all. It tests nothing: the groups are what was found, and not what was drawn by lot. */
export function tableOne({ coded, withoutOutcome }: OutcomeGroups): TableOne {
  const side = (wanted: boolean): StudyPatient[] =>
    coded.filter(({ isFavourable }) => isFavourable === wanted).map(({ patient }) => patient);
  return {
    favourable: columnOf(side(true)),
    unfavourable: columnOf(side(false)),
    withoutOutcome: columnOf(withoutOutcome),
    all: columnOf([...coded.map(({ patient }) => patient), ...withoutOutcome]),
  };
}
