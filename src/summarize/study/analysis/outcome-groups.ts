import type { Outcome, OutcomeScale } from '../../../ingest/tables/outcome.js';
import { insist } from '../../statistics/estimate.js';
import { COMMON_PRACTICE } from '../feature.js';
import { outcomeCode } from '../outcome-code.js';
import type { StudyPatient } from './study-patient.js';

/** Where a scale is cut in two. */
export interface OutcomeCut {
  readonly scale: OutcomeScale;
  /** The lowest level that counts as favourable; of mortality 1, alive. */
  readonly favourableFrom: number;
}

/** Something of both groups. */
export interface BySide<T> {
  readonly favourable: T;
  readonly unfavourable: T;
}

/** A patient with an outcome on the scale of the study. */
export interface CodedPatient {
  readonly patient: StudyPatient;
  /** Higher is better. */
  readonly code: number;
  readonly isFavourable: boolean;
}

/** A level of the scale and how many have it. */
export interface OutcomeLevel {
  readonly code: number;
  readonly title: string;
  readonly isFavourable: boolean;
  readonly count: number;
}

/** The patients of a study by outcome. */
export interface OutcomeGroups extends OutcomeCut {
  /** What each group is, for pages. */
  readonly words: BySide<string>;
  /** Of the cut. */
  readonly source: string;
  readonly coded: readonly CodedPatient[];
  readonly counts: BySide<number>;
  /** Rising, also those that nobody has. */
  readonly levels: readonly OutcomeLevel[];
  /** Patients whose outcome is not known, and among them those whose outcome is on another scale. */
  readonly withoutOutcome: readonly StudyPatient[];
  readonly onAnotherScale: number;
}

/** Upper half of a scale; common practice, no source. */
export const USUAL_CUTS: Readonly<Record<OutcomeScale, OutcomeCut>> = {
  gos: { scale: 'gos', favourableFrom: 4 },
  gose: { scale: 'gose', favourableFrom: 5 },
  mortality: { scale: 'mortality', favourableFrom: 1 },
};

/**
 * Levels from the lowest. Sources: Jennett & Bond, Lancet 1975;1:480-4 (GOS); Wilson, Pettigrew & Teasdale, J Neurotrauma
 * 1998;15:573-85 (GOSE).
 */
const LEVELS: Readonly<
  Record<OutcomeScale, { readonly lowest: number; readonly titles: readonly string[] }>
> = {
  gos: {
    lowest: 1,
    titles: ['dead', 'vegetative state', 'severe disability', 'moderate disability', 'good recovery'],
  },
  gose: {
    lowest: 1,
    titles: [
      'dead',
      'vegetative state',
      'lower severe disability',
      'upper severe disability',
      'lower moderate disability',
      'upper moderate disability',
      'lower good recovery',
      'upper good recovery',
    ],
  },
  mortality: { lowest: 0, titles: ['dead', 'alive'] },
};

/** The levels of a scale that can be the lowest favourable one: all but its worst. */
export function cutsOf(scale: OutcomeScale): { readonly from: number; readonly to: number } {
  const { lowest, titles } = LEVELS[scale];
  return { from: lowest + 1, to: lowest + titles.length - 1 };
}

function wordsOf({ scale, favourableFrom }: OutcomeCut): BySide<string> {
  if (scale === 'mortality') return { favourable: 'alive', unfavourable: 'dead' };
  const [name, last] = [scale.toUpperCase(), LEVELS[scale].titles.length];
  const range = (from: number, to: number): string =>
    from === to ? `${name} ${from}` : `${name} ${from} to ${to}`;
  return {
    favourable: `favourable: ${range(favourableFrom, last)}`,
    unfavourable: `unfavourable: ${range(1, favourableFrom - 1)}`,
  };
}

/**
 * On the scale of the study; null where the outcome is on one that does not tell it. GOS and GOSE 1 is dead; each level of
 * the GOS from 3 on is two of the GOSE. Source: Wilson, Pettigrew & Teasdale, J Neurotrauma 1998;15:573-85.
 */
export function codeOn(scale: OutcomeScale, outcome: Outcome): number | null {
  if (outcome.scale === scale) return outcomeCode(outcome);
  if (scale === 'mortality' && outcome.scale !== 'mortality') return outcome.value === 1 ? 0 : 1;
  if (scale === 'gos' && outcome.scale === 'gose') {
    return outcome.value <= 2 ? outcome.value : Math.floor((outcome.value + 3) / 2);
  }
  return null;
}

/**
 * Parts patients by outcome: favourable from a level on, unfavourable below it. Those whose outcome is not known, or is on
 * a scale that does not tell that of the study, stand apart and are in neither group.
 *
 * @param cut as in `USUAL_CUTS`, or another
 * @throws RangeError where the cut leaves a group without any level, or a patient comes twice
 */
export function outcomeGroups(patients: readonly StudyPatient[], cut: OutcomeCut): OutcomeGroups {
  const { scale, favourableFrom } = cut;
  const { lowest, titles } = LEVELS[scale];
  const cuts = cutsOf(scale);
  insist(
    Number.isInteger(favourableFrom) && favourableFrom >= cuts.from && favourableFrom <= cuts.to,
    `a level from ${cuts.from} to ${cuts.to} that is favourable, and got ${favourableFrom}`,
  );
  insist(new Set(patients.map(({ id }) => id)).size === patients.length, 'each patient once');
  const coded: CodedPatient[] = [];
  const withoutOutcome: StudyPatient[] = [];
  for (const patient of patients) {
    const code = patient.outcome === null ? null : codeOn(scale, patient.outcome);
    if (code === null) withoutOutcome.push(patient);
    else coded.push({ patient, code, isFavourable: code >= favourableFrom });
  }
  const favourable = coded.filter(({ isFavourable }) => isFavourable).length;
  return {
    scale,
    favourableFrom,
    words: wordsOf(cut),
    source: isUsual(cut) ? COMMON_PRACTICE : 'as the pipeline file says',
    coded,
    counts: { favourable, unfavourable: coded.length - favourable },
    levels: titles.map((title, i) => ({
      code: lowest + i,
      title,
      isFavourable: lowest + i >= favourableFrom,
      count: coded.filter(({ code }) => code === lowest + i).length,
    })),
    withoutOutcome,
    onAnotherScale: withoutOutcome.filter(({ outcome }) => outcome !== null).length,
  };
}

const isUsual = ({ scale, favourableFrom }: OutcomeCut): boolean =>
  USUAL_CUTS[scale].favourableFrom === favourableFrom;
