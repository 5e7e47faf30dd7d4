import type { BySide, OutcomeGroups } from '../../summarize/study/analysis/outcome-groups.js';
import type { StudyPatient } from '../../summarize/study/analysis/study-patient.js';

/** Something of the patients of the main analysis, once for each outcome. */
export function bySide<T>({ coded }: OutcomeGroups, of: (patients: readonly StudyPatient[]) => T): BySide<T> {
  const side = (wanted: boolean): T =>
    of(coded.filter(({ isFavourable }) => isFavourable === wanted).map(({ patient }) => patient));
  return { favourable: side(true), unfavourable: side(false) };
}
