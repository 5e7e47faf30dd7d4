import { doseRange } from '../charts/study-dose.js';
import { plainUnit } from '../plain-unit.js';
import type { EstimateResult } from '../results-estimate.js';
import type { StudyDoseResult } from '../results-study-dose.js';
import { counted, listed, NONE, share } from '../words.js';

/** Units of features as a person writes them; a plain number has none. */
const UNITS: Readonly<Record<string, string>> = {
  '1': '',
  'mm[Hg].h': 'mmHg·h',
  '{episodes}': 'episodes',
  '{episodes}/d': 'episodes a day',
};
/** Units of which nobody has a part. */
const WHOLE: readonly string[] = ['min', '{episodes}'];

/** Digits behind the point: small values need more to be told apart. */
function digitsFor(largest: number, unit: string): number {
  if (WHOLE.includes(unit)) return 0;
  if (unit === '1') return 2;
  return largest < 1 ? 3 : largest < 10 ? 2 : 1;
}

/** How values of one feature are written, which hangs on how large they become. */
export function doseValues({ groups, unit }: StudyDoseResult): (value: number) => string {
  const digits = digitsFor(Math.max(...(groups ?? []).map(({ to }) => to)), unit);
  return (value) => doseValue(value, digits);
}

export const unitOf = (unit: string): string => UNITS[unit] ?? plainUnit(unit);

/** `Dose of ICP above 22 mmHg (mmHg·h)`. */
export const titleWithUnit = ({ title, unit }: Pick<StudyDoseResult, 'title' | 'unit'>): string =>
  unitOf(unit) === '' ? title : `${title} (${unitOf(unit)})`;

/** A value of a feature; one that is there is never shown as none. */
export function doseValue(value: number, digits: number): string {
  if (value === 0) return '0';
  const text = value.toFixed(digits);
  if (value > 0 && Number(text) === 0) return `< ${(10 ** -digits).toFixed(digits)}`;
  return Number(text) === 0 ? (0).toFixed(digits) : text.replace('-', '−');
}

/** `0.4 to 12.3`; one value where all have the same. */
export const rangeText = (
  { from, to }: { readonly from: number; readonly to: number },
  text: (value: number) => string,
): string => (from === to ? text(from) : `${text(from)} to ${text(to)}`);

/** `25 % (12 to 44 %)`. */
export function shareWithBounds({ value, lower, upper }: EstimateResult): string {
  if (value === null) return NONE;
  if (lower === null || upper === null) return share(value);
  return `${share(value)} (${share(lower).replace(' %', '')} to ${share(upper)})`;
}

/** `0.031`, `< 0.001`. */
export const pText = (p: number): string => (p < 0.001 ? '< 0.001' : p.toFixed(p < 0.1 ? 3 : 2));

/** What a chart says, for a reader who cannot see it. */
export function doseSays(dose: StudyDoseResult): string {
  const { unit, groups, curve } = dose;
  const text = doseValues(dose);
  const unitName = unitOf(unit) === '' ? '' : ` ${unitOf(unit)}`;
  const words = [`Unfavourable outcome by ${titleWithUnit(dose)}.`];
  if (groups !== null) {
    const told = groups.map(
      (group) =>
        `${rangeText(group, text)}${unitName}: ${group.unfavourable} of ${counted(group.patients, 'patient')}, ${shareWithBounds(group.share)}`,
    );
    words.push(`Groups: ${told.join('; ')}.`);
  }
  if (curve !== null) {
    const { points } = curve;
    const ends = [points[0], points[Math.floor(points.length / 2)], points[points.length - 1]];
    const told = ends.map(
      ({ at, share: chance, lower, upper }) =>
        `${shareWithBounds({ value: chance, lower, upper })} at ${text(at)}${unitName}`,
    );
    words.push(`Curve: ${listed(told)}.`);
  }
  return words.join(' ');
}

/** What is odd about the figures of one feature, for the reader of its chart. */
export function doseRemarks(dose: StudyDoseResult): string[] {
  const { curve, curveReason, groups } = dose;
  const remarks = [...dose.remarks];
  const last = groups?.at(-1);
  if (last && doseRange(dose).isCut) {
    remarks.push(`The last group reaches to ${doseValues(dose)(last.to)}, beyond the chart.`);
  }
  if (groups !== null && curve === null && curveReason !== undefined) {
    remarks.push(`There is no curve: ${curveReason}. What can be said stands in the groups.`);
  }
  if (curve?.hasFewEvents) {
    remarks.push(
      `${curve.eventsPerVariable.toFixed(1)} patients of the smaller outcome group for each term of the curve are few (under 10): its shape rests on little.`,
    );
  }
  return remarks;
}
