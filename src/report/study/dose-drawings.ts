import type { Draw } from '../charts/spec.js';
import { studyDoseSpec } from '../charts/study-dose.js';
import type { StudyDoseResult } from '../results-study-dose.js';
import { titleWithUnit } from './dose-words.js';

/** The charts by key of the feature, as SVG; null where there is nothing to draw. */
export type DoseDrawings = Readonly<Record<string, string | null>>;

/** Draws outcome over each chosen feature. */
export async function drawDose(dose: readonly StudyDoseResult[], draw: Draw): Promise<DoseDrawings> {
  const drawn: [string, string | null][] = [];
  for (const [i, one] of dose.entries()) {
    const hasChart = one.groups !== null || one.curve !== null;
    drawn.push([one.key, hasChart ? await draw(studyDoseSpec(one, titleWithUnit(one)), `dose-${i}`) : null]);
  }
  return Object.fromEntries(drawn);
}
